import type { Metre } from '../../foundation/metre.ts';
import type { MidiPitch, Milliseconds, Seconds } from '../../foundation/units.ts';
import type { Click, Strike } from '../../take/take.ts';
import type { Swinging } from '../rhythm/swings.ts';

/** What is known of the phrase under way when it is written on; all on one clock. */
export interface PhraseHeard {
  /** The first strike of the phrase: whose writing this is. */
  readonly since: Seconds;
  /** Its strikes in order of time; those before `readsFrom` may be left out. */
  readonly strikes: readonly Strike[];
  /** The click it is struck to, with the beats heard so far. */
  readonly click?: Click;
  /** A metre that was chosen, for what is struck to no click. */
  readonly metre?: Metre;
  /** How late the device reports strikes. */
  readonly latency: Milliseconds;
  readonly now: Seconds;
}

/** One moment that was written. */
export interface WrittenMoment {
  /** From the first barline, in ticks. */
  readonly tick: number;
  /** Struck together; a grace note has no position of its own. */
  readonly struck: readonly WrittenStrike[];
}

export interface WrittenStrike {
  readonly at: Seconds;
  readonly pitch: MidiPitch;
  /** Its grace notes, in order. */
  readonly graces?: readonly MidiPitch[];
  /** Rolled: when its last stroke fell, and when it ended. */
  readonly roll?: { readonly last: Seconds; readonly until: Seconds };
  /** Drawn over bars: when the last was struck and it ended, the bars struck, itself first, and where it leads. */
  readonly gliss?: {
    readonly last: Seconds;
    readonly until: Seconds;
    readonly over: readonly MidiPitch[];
    readonly to: MidiPitch;
  };
}

/** The beat that is written on; times with the lateness of the device taken off. */
export interface WrittenBeat {
  readonly metre: Metre;
  /** Of a click: its first beat, by which it is known, and which beat is the first barline; absent where the beat was found in the strikes. */
  readonly click?: { readonly first: Seconds; readonly barline: number };
  /** Beats heard or found, the latest of them; `zero` is the index of the one on the first barline. */
  readonly beats: readonly Seconds[];
  readonly zero: number;
  /** Ticks from one beat to the next. */
  readonly step: number;
  readonly swing: Swinging;
}

/** A phrase as far as it is written: a value, from which writing goes on. */
export interface WrittenSoFar {
  readonly since: Seconds;
  readonly latency: Milliseconds;
  /** Undefined until the beat is sure. */
  readonly beat: WrittenBeat | undefined;
  /** The last strike among which a beat was sought in vain. */
  readonly soughtTo: Seconds;
  /** The last bars, in order; those of the beat under way are written when it is over. */
  readonly moments: readonly WrittenMoment[];
  /** Ticks up to which beats are over: what lies before is shown. */
  readonly upTo: number;
  /** When the beat under way is over and there is more to show. */
  readonly again?: Seconds;
}
