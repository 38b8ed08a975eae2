import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { add, type Fraction, fraction, show, toNumber } from '../../core/foundation/fraction.ts';
import { key, MODE_NAMES, scaleMidi, scaleSize, toScale } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { midiOf, pitchName } from '../../core/foundation/pitch.ts';
import { applyTreatment } from '../../core/motif/apply.ts';
import type { Motif, MotifNote } from '../../core/motif/motif.ts';
import type { Treatment } from '../../core/motif/treatment.ts';
import { countMoments } from '../../core/motif/vary.ts';
import { statementName, treatmentsUsed } from '../../core/plan/naming.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { notesOfStatement } from '../../core/plan/statement.ts';
import { grow } from '../../core/growing/grow.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { written } from '../score/written.ts';

const C = key('C');
/** Rows of place and length in quavers, and MIDI pitch. */
const motifOf = (
  rows: readonly (readonly [at: number, length: number, pitch: number])[],
  more: Partial<Motif> = {},
): Motif => ({
  key: C,
  metre: metre(4, 4),
  length: fraction(1),
  notes: rows.map(([at, length, pitch]) => ({
    onset: fraction(at, 8),
    duration: fraction(length, 8),
    ...toScale(more.key ?? C, pitch),
  })),
  ...more,
});
const rowsOf = (motif: Motif, treatment: Treatment): string =>
  applyTreatment(motif, motif.key, treatment)
    .notes.map(
      n =>
        `${show(n.onset)}:${show(n.duration)}:${String(scaleMidi(motif.key, n))}${n.grace ? `'${String(scaleMidi(motif.key, n.grace))}` : ''}`,
    )
    .join(' ');

// C quaver, E crotchet, G crotchet, F quaver, D crotchet; derived by hand in each case.
const IDEA = motifOf([
  [0, 1, 72],
  [1, 2, 76],
  [3, 2, 79],
  [5, 1, 77],
  [6, 2, 74],
]);

describe('variation', () => {
  it('keeps the rhythm and takes other notes of the idea', () => {
    expect(rowsOf(IDEA, { kind: 'pitches', from: [2, 1, 0, 0, 4] })).toBe(
      '0:1/8:79 1/8:1/4:76 3/8:1/4:72 5/8:1/8:72 3/4:1/4:74',
    );
    // What names no note of the idea stays.
    expect(rowsOf(IDEA, { kind: 'pitches', from: [9] })).toBe(
      '0:1/8:72 1/8:1/4:76 3/8:1/4:79 5/8:1/8:77 3/4:1/4:74',
    );
  });

  it('keeps the notes and uses their lengths in another order', () => {
    expect(rowsOf(IDEA, { kind: 'lengths', from: [1, 0, 2, 4, 3] })).toBe(
      '0:1/4:72 1/4:1/8:76 3/8:1/4:79 5/8:1/4:77 7/8:1/8:74',
    );
  });

  it('moves a rest with the length it follows', () => {
    const rests = motifOf([
      [0, 1, 72],
      [4, 2, 76],
    ]);
    expect(rowsOf(rests, { kind: 'lengths', from: [1, 0] })).toBe('0:1/4:72 1/2:1/8:76');
  });

  it('keeps an upbeat, and the idea begins where it began', () => {
    const upbeat = motifOf(
      [
        [-2, 2, 67],
        [0, 4, 72],
        [4, 2, 76],
      ],
      { upbeat: fraction(1, 4) },
    );
    expect(rowsOf(upbeat, { kind: 'lengths', from: [1, 0, 2] })).toBe('-1/4:1/2:67 1/4:1/4:72 1/2:1/4:76');
  });

  it('an order in which a length comes twice, or is missing, changes nothing', () => {
    for (const from of [[0, 0, 2, 3, 4], [1, 0], [], [0, 1, 2, 3, 9]])
      expect(rowsOf(IDEA, { kind: 'lengths', from })).toBe(rowsOf(IDEA, { kind: 'pitches', from: [] }));
  });

  it('ornaments a note in its own time: struck twice, with a neighbour, or a grace note', () => {
    const note = motifOf([[0, 4, 76]]);
    const by = (figure: 'twice' | 'upper' | 'lower' | 'grace', of = note): string =>
      rowsOf(of, { kind: 'ornament', ornaments: [{ note: 0, figure }] });
    expect(by('twice')).toBe('0:1/4:76 1/4:1/4:76');
    expect(by('upper')).toBe('0:1/4:76 1/4:1/8:77 3/8:1/8:76');
    expect(by('lower')).toBe('0:1/4:76 1/4:1/8:74 3/8:1/8:76');
    expect(by('grace')).toBe("0:1/2:76'77");
    // In a scale of five the neighbour is the scale's.
    const five = motifOf([[0, 4, 76]], { key: key('C', 'major pentatonic') });
    expect(by('upper', five)).toBe('0:1/4:76 1/4:1/8:79 3/8:1/8:76');
  });

  it('of a variation can be read: a demisemiquaver is not divided any more', () => {
    const short = { ...IDEA, notes: [{ ...(IDEA.notes[0] as MotifNote), duration: fraction(1, 32) }] };
    expect(rowsOf(short, { kind: 'ornament', ornaments: [{ note: 0, figure: 'upper' }] })).toBe('0:1/32:72');
  });

  it('follows a correction of the idea, and is named over the stave', () => {
    const plan = firstPlan('marimba', 90);
    const varied = (t: Treatment) => ({
      ...plan,
      statements: plan.statements.map(s => ({ ...s, chain: [t] })),
    });
    const swap = varied({ kind: 'pitches', from: [1, 0, 2, 3, 4] });
    const corrected = motifOf([
      [0, 1, 72],
      [1, 2, 77],
      [3, 2, 79],
      [5, 1, 77],
      [6, 2, 74],
    ]);
    const s1 = swap.statements[0];
    if (s1 === undefined) throw new Error('no statement');
    expect(notesOfStatement(corrected, s1).map(n => pitchName(n.pitch))).toEqual([
      'F5',
      'C5',
      'G5',
      'F5',
      'D5',
    ]);
    const names = (
      [
        { kind: 'pitches', from: [1] },
        { kind: 'lengths', from: [1, 0, 2, 3, 4] },
        { kind: 'ornament', ornaments: [{ note: 0, figure: 'twice' }] },
      ] as const
    ).map(t =>
      scoreOfPlan(IDEA, varied(t), '', '')
        .brackets.map(b => b.text)
        .join(),
    );
    expect(names).toEqual(['variation, same rhythm', 'variation, same notes', 'variation, ornamented']);
    expect(treatmentsUsed(IDEA, swap)).toEqual(['variation, same rhythm']);
  });

  it('in another part while the first goes on is imitation, never a canon: it is not the same', () => {
    const made = grow(IDEA, firstPlan('xylophone', 90), {
      kind: 'canon',
      statement: 's1',
      to: { newPart: 'marimba' },
      beats: 1,
      also: [{ kind: 'pitches', from: [1, 0] }],
    });
    if (!made.ok) throw new Error(made.problem.what);
    const { plan } = made.value;
    expect(plan.statements.map(s => statementName(IDEA, plan, s))[1]).toBe(
      'imitation, varied, one beat later',
    );
  });

  it('law: rhythm stays where notes change, notes stay where rhythm changes, and length always', () => {
    const quavers = fc.array(fc.tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 55, max: 84 })), {
      minLength: 1,
      maxLength: 8,
    });
    fc.assert(
      fc.property(
        quavers,
        fc.constantFrom(...MODE_NAMES),
        fc.array(fc.nat({ max: 9 })),
        fc.infiniteStream(fc.nat()),
        (all, mode, from, chance) => {
          let at = 0;
          const rows = all.map(([long, pitch]) => {
            const row = [at, Math.max(1, long - 1), pitch] as const;
            at += long;
            return row;
          });
          const motif = motifOf(rows, { key: key('D', mode), length: fraction(at, 8) });
          const order = rows.map((_, i) => i);
          order.forEach((_, i) => {
            const j = (chance.next().value as number) % order.length;
            [order[i], order[j]] = [order[j] ?? 0, order[i] ?? 0];
          });
          const rhythm = (m: { notes: readonly MotifNote[] }) =>
            m.notes.map(n => [show(n.onset), show(n.duration)]);
          const tune = (m: { notes: readonly MotifNote[] }) => m.notes.map(n => scaleMidi(motif.key, n));
          const pitches = applyTreatment(motif, motif.key, { kind: 'pitches', from });
          const lengths = applyTreatment(motif, motif.key, { kind: 'lengths', from: order });
          expect(rhythm(pitches)).toEqual(rhythm(motif));
          expect(tune(pitches).every(p => tune(motif).includes(p))).toBe(true);
          expect(tune(lengths)).toEqual(tune(motif));
          const ends = (m: { notes: readonly MotifNote[] }): Fraction[] =>
            m.notes.map(n => add(n.onset, n.duration));
          expect(Math.max(...ends(lengths).map(toNumber))).toBeLessThanOrEqual(at / 8);
          const sorted = (m: { notes: readonly MotifNote[] }) =>
            m.notes.map(n => toNumber(n.duration)).sort();
          expect(sorted(lengths)).toEqual(sorted(motif));
          expect([pitches.length, lengths.length]).toEqual([motif.length, motif.length]);
          expect(countMoments(motif)).toBe(rows.length);
        },
      ),
    );
  });
});

// A real sequence keeps every interval, so in the major key on C a tone higher each time leads through D to E
// (common practice, no source).
describe('a modulating sequence', () => {
  const sequence = (steps: number, by: 'scale' | 'semitone', idea = IDEA) => {
    const made = grow(idea, firstPlan('marimba', 90), {
      kind: 'sequence',
      statement: 's1',
      steps,
      copies: 2,
      by,
    });
    if (!made.ok) throw new Error(made.problem.what);
    return made.value.plan;
  };
  it('moves every interval exactly, is spelled by letters and named as what it is', () => {
    const plan = sequence(2, 'semitone');
    expect(
      plan.statements.map(s =>
        notesOfStatement(IDEA, s)
          .map(n => pitchName(n.pitch))
          .join(' '),
      ),
    ).toEqual(['C5 E5 G5 F5 D5', 'D5 F♯5 A5 G5 E5', 'E5 G♯5 B5 A5 F♯5']);
    expect(plan.statements.map(s => statementName(IDEA, plan, s))).toEqual([
      'the motif',
      'modulating sequence, a tone higher',
      'modulating sequence, a tone higher',
    ]);
    expect(treatmentsUsed(IDEA, plan)).toEqual(['modulating sequence']);
    expect(written(scoreOfPlan(IDEA, plan, '', '').parts[0]?.bars ?? [])).toBe(
      'e q e~ [e e] q | e q# e~ [e e] q | e q# e~ [e e] q#',
    );
  });
  it('is a plain sequence where it stays in the key', () => {
    const plan = sequence(1, 'scale');
    expect(statementName(IDEA, plan, plan.statements[1] ?? plan.statements[0] ?? never())).toBe(
      'sequence, a second higher',
    );
    const fourth = motifOf([
      [0, 4, 72],
      [4, 4, 74],
    ]);
    const real = sequence(7, 'semitone', fourth);
    expect(statementName(fourth, real, real.statements[1] ?? never())).toBe('sequence, a fifth higher');
  });
  it.each([...MODE_NAMES])('law, %s: every copy is the idea so many semitones higher', mode => {
    const idea = motifOf(
      [
        [0, 1, 62],
        [1, 2, 65],
        [3, 2, 69],
        [5, 3, 71],
      ],
      { key: key('D', mode) },
    );
    for (const steps of [-5, -1, 1, 3, 7]) {
      const plan = sequence(steps, 'semitone', idea);
      const [first, ...copies] = plan.statements.map(s =>
        notesOfStatement(idea, s).map(n => midiOf(n.pitch)),
      );
      copies.forEach((copy, k) => {
        expect(copy).toEqual(first?.map(p => p + steps * (k + 1)));
      });
    }
    expect(scaleSize(idea.key)).toBeGreaterThan(4);
  });
});

const never = (): never => {
  throw new Error('no statement');
};
