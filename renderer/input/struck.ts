import type { MidiPitch, Seconds, Velocity } from '../../core/foundation/units.ts';
import type { HeardSource } from '../../core/take/memory.ts';

/** Where a strike came from. */
export interface StruckBy {
  readonly id: string;
  /** As a person knows it. */
  readonly name: string;
  readonly source: HeardSource;
}

/** A strike as any of the inputs reports it; `at` on the clock of performance.now(), in seconds. */
export interface Struck {
  readonly at: Seconds;
  readonly pitch: MidiPitch;
  readonly velocity: Velocity;
  /** What it may be instead, where it was heard and not sent. */
  readonly nextBest?: MidiPitch;
  /** It may be somebody else's. */
  readonly perhapsNone?: true;
  readonly by: StruckBy;
}

/** A bar or key let go. */
export interface LetGo {
  readonly at: Seconds;
  readonly pitch: MidiPitch;
  readonly by: StruckBy;
}

/**
 * An event's own time in seconds, which is when it happened rather than when we got round to it;
 * the present where the event carries none, or one that cannot be true.
 */
export const timeOf = (timeStamp: number | undefined, now: number = performance.now()): Seconds =>
  (timeStamp !== undefined && Number.isFinite(timeStamp) && timeStamp > 0 && timeStamp <= now + 20
    ? timeStamp
    : now) / 1000;
