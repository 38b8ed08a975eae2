import type { Sound } from '../sound/sound.ts';
import type { Calibration } from './acts/calibration.ts';
import type { Carrying } from './acts/carrying.ts';
import type { ClassPaper } from './acts/classPaper.ts';
import type { EvidenceMaking } from './acts/evidence.ts';
import type { HearingAgain } from './acts/hearingAgain.ts';
import type { Keeper } from './acts/keeper.ts';
import type { Listening } from './acts/listening.ts';
import type { Opening } from './acts/opening.ts';
import type { Striking } from './acts/striking.ts';
import type { Rehearsing } from './acts/rehearsing.ts';
import type { RoomBars } from './acts/roomBars.ts';
import type { Sending } from './acts/sending.ts';
import type { Tapping } from './acts/tapping.ts';
import type { Asking } from './asking.ts';
import type { Desk } from './desk.ts';

/** The desk, and everything that has a side effect; made once, in main, and handed to the views. */
export interface AppParts {
  readonly desk: Desk;
  readonly asking: Asking;
  readonly striking: Striking;
  readonly listening: Listening;
  readonly rehearsing: Rehearsing;
  readonly roomBars: RoomBars;
  readonly tapping: Tapping;
  readonly calibration: Calibration;
  readonly keeper: Keeper;
  readonly classPaper: ClassPaper;
  readonly carrying: Carrying;
  readonly evidence: EvidenceMaking;
  readonly hearingAgain: HearingAgain;
  readonly opening: Opening;
  readonly sending: Sending;
  readonly sound: Sound;
  readonly lookForMidi: () => void;
}
