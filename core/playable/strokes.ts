import { compare, type Fraction } from '../foundation/fraction.ts';
import { midiOf } from '../foundation/pitch.ts';
import type { MidiPitch, Seconds } from '../foundation/units.ts';
import type { Motif } from '../motif/motif.ts';
import { type Plan, statementsOf } from '../plan/plan.ts';
import { notesOfStatement } from '../plan/statement.ts';

/** Everything one player strikes at one moment. */
export interface MalletStroke {
  /** From the first full barline, in semibreves. */
  readonly onset: Fraction;
  /** From the start, at the piece's tempi. */
  readonly seconds: Seconds;
  /** One for each mallet it takes, as written, low to high; a grace note takes one too. */
  readonly pitches: readonly MidiPitch[];
}

/** What one part strikes, in order. `secondsOf` tells when a place sounds. */
export const strokesOf = (
  motif: Motif,
  plan: Plan,
  part: string,
  secondsOf: (at: Fraction) => Seconds,
): readonly MalletStroke[] => {
  const struck = new Map<string, { at: Fraction; notes: Set<MidiPitch>; graces: Set<MidiPitch> }>();
  for (const statement of statementsOf(plan, part)) {
    for (const { onset: at, pitch, grace } of notesOfStatement(motif, statement, plan)) {
      const name = `${String(at.n)}/${String(at.d)}`;
      const here = struck.get(name) ?? { at, notes: new Set(), graces: new Set() };
      struck.set(name, here);
      here.notes.add(midiOf(pitch));
      if (grace !== undefined) here.graces.add(midiOf(grace));
    }
  }
  return [...struck.values()]
    .sort((a, b) => compare(a.at, b.at))
    .map(({ at, notes, graces }) => ({
      onset: at,
      seconds: secondsOf(at),
      pitches: [...notes, ...graces].sort((a, b) => a - b),
    }));
};
