import type { InstrumentId } from '../instruments/instruments.ts';
import type { BarIndex } from '../foundation/units.ts';
import type { Take } from '../take/take.ts';

/** One part of a playing that was kept. */
export interface KeptPart {
  readonly part: string;
  /** What it was played on, should the part be gone one day. */
  readonly instrument: InstrumentId;
  /** As it was played, devices' lateness taken off; 0 is the first beat of the bars played. */
  readonly take: Take;
}

/** What was really played along to a piece, kept beside what is written: one time through. */
export interface KeptPlaying {
  /** Sortable and unique. */
  readonly id: string;
  readonly first: BarIndex;
  readonly last: BarIndex;
  /** 1 as written. */
  readonly speed: number;
  readonly parts: readonly KeptPart[];
}

/** As many are kept beside one piece. */
export const MOST_PLAYINGS = 20;
