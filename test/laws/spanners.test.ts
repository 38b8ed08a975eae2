import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { fraction, ZERO } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { Motif, MotifNote } from '../../core/motif/motif.ts';
import type { Treatment } from '../../core/motif/treatment.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import type { Statement } from '../../core/plan/statement.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import { unbalanced } from '../exchange/spanners.ts';

/** An idea of a bar or two of chords, triplets, grace notes and lines to any bar, which its next note may be on. */
const anyMotif: fc.Arbitrary<Motif> = fc
  .record({
    bars: fc.integer({ min: 1, max: 2 }),
    beats: fc.array(
      fc.record({
        cut: fc.constantFrom(1, 2, 3),
        long: fc.boolean(),
        notes: fc.array(
          fc.record({
            degrees: fc.uniqueArray(fc.integer({ min: 26, max: 30 }), { minLength: 1, maxLength: 2 }),
            to: fc.option(fc.integer({ min: 26, max: 30 }), { nil: undefined }),
            grace: fc.boolean(),
          }),
          { minLength: 3, maxLength: 3 },
        ),
      }),
      { minLength: 8, maxLength: 8 },
    ),
  })
  .map(({ bars, beats }): Motif => {
    const notes: MotifNote[] = [];
    beats.slice(0, 4 * bars).forEach(({ cut, long, notes: own }, beat) => {
      const d = 4 * cut;
      for (let i = 0; i < cut; i++)
        for (const degree of own[i]?.degrees ?? [])
          notes.push({
            onset: fraction(beat * cut + i, d),
            duration: cut === 1 && long && beat < 4 * bars - 1 ? fraction(1, 2) : fraction(1, d),
            degree,
            alter: 0,
            ...(own[i]?.to === undefined ? {} : { gliss: { to: { degree: own[i]?.to ?? 28, alter: 0 } } }),
            ...(own[i]?.grace === true ? { grace: { degree, alter: 0 } } : {}),
          });
    });
    return { key: key('C'), metre: metre(4, 4), length: fraction(bars), notes };
  });

const anyTreatment: fc.Arbitrary<Treatment> = fc.constantFrom(
  { kind: 'retrograde' },
  { kind: 'augment', factor: fraction(3, 2) },
  { kind: 'transpose', by: 'scale', steps: 2 },
);

const anyStatement = fc.record({
  chain: fc.array(anyTreatment, { maxLength: 2 }),
  times: fc.integer({ min: 1, max: 3 }),
  late: fc.integer({ min: 0, max: 5 }),
  slurred: fc.boolean(),
  pedalled: fc.boolean(),
  hairpin: fc.constantFrom('crescendo' as const, 'diminuendo' as const, undefined),
  part: fc.constantFrom('p1', 'p2'),
});

const anyPiece = fc
  .record({ motif: anyMotif, statements: fc.array(anyStatement, { minLength: 1, maxLength: 4 }) })
  .map(({ motif, statements }): { motif: Motif; plan: Plan } => {
    const ends: Record<string, number> = { p1: 0, p2: 0 };
    const placed = statements.map(
      ({ chain, times, late, slurred, pedalled, hairpin, part }, i): Statement => {
        const onset = (ends[part] ?? 0) + late;
        const stretch = chain.reduce((so, one) => so * (one.kind === 'augment' ? 1.5 : 1), 1);
        // In crotchets; what a last note holds over is room for the next.
        ends[part] = Math.ceil(onset + (4 * motif.length.n * times + 4) * stretch);
        return {
          id: `s${String(i)}`,
          part,
          onset: onset === 0 ? ZERO : fraction(onset, 4),
          chain,
          times,
          ...(pedalled ? { pedalled: true as const } : {}),
          ...(slurred ? { slurred: true as const } : {}),
          ...(hairpin === undefined ? {} : { hairpin }),
        };
      },
    );
    return {
      motif,
      plan: {
        ...firstPlan('xylophone', 90),
        parts: [
          { id: 'p1', instrument: 'xylophone' },
          { id: 'p2', instrument: 'vibraphone' },
        ],
        statements: placed,
        nextId: 9,
      },
    };
  });

describe('every spanner of MusicXML that begins ends, once', () => {
  it('ties, slurs, wedges, lines, tuplets, endings and pedals of random pieces, written out and folded', () => {
    fc.assert(
      fc.property(anyPiece, ({ motif, plan }) => {
        const score = scoreOfPlan(motif, plan, 'Piece', 'Heron');
        expect(unbalanced(musicXml(score))).toEqual([]);
        expect(unbalanced(musicXml(withRepeatBars(score)))).toEqual([]);
      }),
      { numRuns: 400 },
    );
  });

  it('no repeat barline stands in the line of a glissando: it would lead to another note each time', () => {
    const at = (n: number, d: number, length: number, degree: number): MotifNote => ({
      onset: n === 0 ? ZERO : fraction(n, d),
      duration: fraction(1, length),
      degree,
      alter: 0,
    });
    // Begun on the second beat the line leads over a barline, in the bars which end otherwise the last time.
    const notes = [
      ...[at(0, 1, 4, 26), at(1, 4, 4, 26), at(1, 2, 12, 26), at(7, 12, 12, 26)],
      { ...at(2, 3, 12, 26), gliss: { to: { degree: 27, alter: 0 } } },
      ...[at(3, 4, 4, 27), at(1, 1, 4, 26), at(5, 4, 4, 26), at(3, 2, 4, 26), at(7, 4, 4, 26)],
    ];
    const plan = firstPlan('xylophone', 90);
    const statements = plan.statements.map(s => ({
      ...s,
      onset: fraction(1, 4),
      times: 2,
      hairpin: 'crescendo' as const,
    }));
    const motif: Motif = { key: key('C'), metre: metre(4, 4), length: fraction(2), notes };
    const score = scoreOfPlan(motif, { ...plan, statements }, 'Piece', 'Heron');
    expect(unbalanced(musicXml(withRepeatBars(score)))).toEqual([]);
  });

  it('finds what is not balanced', () => {
    const note = (notations: string): string => `<note><pitch><step>C</step></pitch>${notations}</note>`;
    const part = (notes: string): string => `<part id="P1"><measure number="1">${notes}</measure></part>`;
    const start = '<glissando type="start" number="1">';
    expect(unbalanced(part(note(start)))).toHaveLength(1);
    expect(
      unbalanced(part(note(start) + note(start) + note('<glissando type="stop" number="1">'))),
    ).toHaveLength(1);
    expect(unbalanced(part(note('<tie type="stop">')))).toHaveLength(1);
  });
});
