import { effect } from '@preact/signals';
import type { Result } from '../../../core/foundation/result.ts';
import type { Seconds } from '../../../core/foundation/units.ts';
import type { HeardAgain, Known } from '../../../core/hearing/again.ts';
import type { StruckBar } from '../../../core/hearing/hear.ts';
import type { Recording } from '../../../core/hearing/readWav.ts';
import { type InstrumentId, INSTRUMENTS } from '../../../core/instruments/instruments.ts';
import { wav16 } from '../../../core/exchange/wav.ts';
import { mendedStrikes } from '../../../core/piece/heardAgain.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import type { Strike, Take } from '../../../core/take/take.ts';
import type { Asking } from '../asking.ts';
import { heardAgain, keepSoundOf, soundAtHand } from '../commands/hearingAgain.ts';
import { tunedBarsOf } from '../commands/learning.ts';
import { complain } from '../commands/messages.ts';
import { instrumentOfDevice } from '../commands/rehearsal.ts';
import type { Desk } from '../desk.ts';
import type { FileWork } from './fileWork.ts';
import { fileName } from './handOn.ts';
import { ROOM } from './roomBars.ts';
import { unreadable } from './unreadable.ts';

/** Sound that can be heard again: a recording on its own disk, or a WAV file that is in memory alone. */
export type SoundAtHand = File | { readonly name: string; readonly bytes: Uint8Array };
const isFile = (sound: SoundAtHand): sound is File => sound instanceof File;

/** How a sound became a take. */
export interface AsTake {
  readonly take: Take;
  readonly instrument: InstrumentId;
  /** Where the sound begins on the take's clock. */
  readonly begins: Seconds;
}

/** What the microphone heard between two moments. */
export interface SoundOfRoom {
  /** Where it begins, on the clock of input. */
  readonly from: Seconds;
  readonly recording: Recording;
}

export interface HearingAgain {
  /** A take on the desk was heard from a recording, which lies on its own disk. */
  readonly opened: (file: File, asTake: AsTake) => void;
  /** A take on the desk was heard through the microphone. @param zero of its clock, on the clock of input */
  readonly caught: (take: Take, zero: Seconds) => Promise<void>;
  /** Hears the sound of the idea on the desk once more, by what was corrected since; or says that it is gone. */
  readonly again: () => Promise<void>;
  /** Hands on the sound of the idea on the desk, which is thrown away otherwise, as a file. */
  readonly keep: () => void;
  readonly dispose: () => void;
}

/** How the act reaches the world; a test hands in its own. */
export interface HearingAgainWorld {
  readonly hearAgain: (
    sound: SoundAtHand,
    signal: AbortSignal,
    known: Known,
  ) => Promise<Result<HeardAgain> | undefined>;
  /** What the room sounded like, as far as it is remembered. */
  readonly soundOfRoom: (from: Seconds, to: Seconds) => Promise<SoundOfRoom | undefined>;
  readonly save: (name: string, bytes: Uint8Array) => void;
}

/**
 * Seconds of sound before the first strike, from which the room is known, and after the last, where it rings; chosen by
 * us. With less than the others a strike at the edge is not heard, and the sound is no good.
 */
const [BEFORE, AFTER] = [2, 1.5];
const [LEAST_BEFORE, LEAST_AFTER] = [0.1, 0.6];

export const createHearingAgain = (
  desk: Desk,
  asking: Asking,
  work: FileWork,
  { hearAgain, soundOfRoom, save }: HearingAgainWorld,
): HearingAgain => {
  let held: { readonly sound: SoundAtHand; readonly asTake: AsTake } | undefined;

  const hold = (sound: SoundAtHand, asTake: AsTake): void => {
    held = { sound, asTake };
    desk.run(keepSoundOf, { take: asTake.take.id, isOnlyHere: !isFile(sound) });
  };
  const letGo = (): void => {
    held = undefined;
    desk.run(keepSoundOf, undefined);
  };
  const isOnDesk = ({ id }: Take): boolean => desk.piece.peek()?.take.id === id;
  // Sound that was never written anywhere goes with its idea: when that is closed, or the next pupil comes.
  const unfollow = effect(() => {
    const now = desk.piece.value?.take.id;
    if (held !== undefined && !isFile(held.sound) && held.asTake.take.id !== now) letGo();
  });

  const hearOnce = async (piece: Piece): Promise<void> => {
    if (held === undefined) return;
    const { sound, asTake } = held;
    const { instrument, begins } = asTake;
    const { soundsAbove } = INSTRUMENTS[instrument];
    const told = mendedStrikes(piece).map(({ strike, pitch }) => ({
      at: strike.at - begins,
      heard: strike.pitch + soundsAbove,
      ...(pitch === undefined ? {} : { sounding: pitch + soundsAbove }),
    }));
    const set = tunedBarsOf(desk.now(), instrument);
    const heard = await work.inTime({
      text: `Listening to ${sound.name}`,
      stopped: 'Stopped: the page is as it was.',
      run: signal => hearAgain(sound, signal, { told, set }),
    });
    if (heard === undefined) return;
    if (!heard.ok) {
      desk.run(complain, heard.problem);
      return;
    }
    const asStrike = ({ at, sounding, velocity }: StruckBar): Strike => ({
      at: at + begins,
      pitch: Math.max(0, Math.min(127, sounding - soundsAbove)),
      velocity,
    });
    const { struck, out } = heard.value;
    asking.afterwards(heardAgain, piece, { struck: struck.map(asStrike), out: out.map(asStrike) });
  };

  return {
    opened: hold,
    caught: async (take, zero) => {
      const [first, last] = [take.strikes[0], take.strikes.at(-1)];
      // A rhythm has no bars to be heard better; what came from a pad as well is not in the sound.
      if (take.source !== 'microphone' || first === undefined || last === undefined) return;
      const sound = await soundOfRoom(zero + first.at - BEFORE, zero + last.at + AFTER);
      if (sound === undefined || !isOnDesk(take)) return;
      const { from, recording } = sound;
      const ends = from + recording.samples.length / recording.rate;
      if (from > zero + first.at - LEAST_BEFORE || ends < zero + last.at + LEAST_AFTER) return;
      const bytes = wav16([recording.samples], recording.rate);
      const instrument = instrumentOfDevice(desk.now(), ROOM.name);
      hold({ name: 'what was caught', bytes }, { take, instrument, begins: from - zero });
    },
    again: async () => {
      const piece = desk.piece.peek();
      if (piece === undefined) return;
      if (soundAtHand(desk.now()) === undefined) {
        const wasFile = piece.take.source === 'file';
        desk.run(complain, {
          kind: 'not-found',
          what: wasFile
            ? `${piece.take.from} is not at hand any more: a window forgets a recording when it is loaded anew.`
            : 'The sound of this idea is not here: it is kept only where the room was listened to at the catch, and until the idea is left or the window is loaded anew.',
          kept: 'The page stays as it is, with everything you put right.',
          next: wasFile
            ? 'Put right by hand what is left, or open the recording again as a new idea.'
            : 'Put right by hand what is left, or have it struck once more.',
        });
        return;
      }
      try {
        await hearOnce(piece);
      } catch (thrown) {
        desk.run(complain, unreadable(held?.sound.name ?? 'The recording', thrown));
      }
    },
    keep: () => {
      const piece = desk.piece.peek();
      if (piece === undefined || held === undefined || isFile(held.sound)) return;
      save(fileName(piece, 'wav', 'as struck'), held.sound.bytes);
    },
    dispose: unfollow,
  };
};
