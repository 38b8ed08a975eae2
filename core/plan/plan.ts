import { type Fraction, ZERO } from '../foundation/fraction.ts';
import type { BarIndex, Bpm } from '../foundation/units.ts';
import type { InstrumentId } from '../instruments/instruments.ts';
import type { MalletId } from '../instruments/mallets.ts';
import type { Changes } from './keys.ts';
import type { Statement } from './statement.ts';

export interface Part {
  readonly id: string;
  readonly instrument: InstrumentId;
  /** A name of its own; absent where the instrument's will do. */
  readonly name?: string;
  /** Loudness against the other parts, in dB, -24 to +6; absent for 0. */
  readonly balance?: number;
  /** What it is struck with; absent for the instrument's usual mallets. */
  readonly mallet?: MalletId;
}

/** A silence before a bar (index from 0), in semibreves. */
export interface Pause {
  readonly bar: BarIndex;
  readonly length: Fraction;
}

/** What the pupil built from the motif: parts, statements, tempo and letters. The score is derived from it. */
export interface Plan extends Changes {
  readonly parts: readonly Part[];
  readonly statements: readonly Statement[];
  /** Tactus beats a minute, of the first metre. */
  readonly tempo: Bpm;
  /** New metronome marks from a bar (index from 0) on, in order; in tactus beats of the metre that holds there. */
  readonly tempi?: readonly { readonly bar: BarIndex; readonly tempo: Bpm }[];
  /** Silences that let a section begin on its barline after a change of metre; they go when it goes. */
  readonly pauses?: readonly Pause[];
  /** Rehearsal letters by bar index, from 0. */
  readonly letters: readonly { readonly bar: BarIndex; readonly letter: string }[];
  /** For naming new statements; only ever grows. */
  readonly nextId: number;
}

export const MOST_PARTS = 4;

/**
 * The plan every piece starts from: the motif, once, on the instrument and with the mallets it was played with.
 * @example
 * firstPlan('marimba', 96).statements.length // => 1
 */
export const firstPlan = (instrument: InstrumentId, tempo: Bpm, mallet?: MalletId): Plan => ({
  parts: [{ id: 'p1', instrument, ...(mallet === undefined ? {} : { mallet }) }],
  statements: [{ id: 's1', part: 'p1', onset: ZERO, chain: [], times: 1 }],
  tempo,
  letters: [],
  nextId: 2,
});

/**
 * A statement by its id; undefined when it is gone.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * findStatement(plan, 's1') === plan.statements[0] // => true
 * findStatement(plan, 's9') // => undefined
 */
export const findStatement = (plan: Plan, id: string): Statement | undefined =>
  plan.statements.find(s => s.id === id);

/**
 * Statements of one part in order of entry.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * statementsOf(plan, 'p1') // => plan.statements
 */
export const statementsOf = (plan: Plan, part: string): readonly Statement[] =>
  plan.statements.filter(s => s.part === part).sort((a, b) => a.onset.n * b.onset.d - b.onset.n * a.onset.d);
