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
  /** One for each mallet it takes, as written, low to high; grace notes take them too, a bar of them once. */
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
    for (const { onset: at, pitch, grace, ruff = [] } of notesOfStatement(motif, statement, plan)) {
      const name = `${String(at.n)}/${String(at.d)}`;
      const here = struck.get(name) ?? { at, notes: new Set(), graces: new Set() };
      struck.set(name, here);
      here.notes.add(midiOf(pitch));
      // Every bar of a drag or a ruff takes a mallet: there is no time to go from one to another.
      for (const small of [...ruff, ...(grace === undefined ? [] : [grace])]) here.graces.add(midiOf(small));
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
