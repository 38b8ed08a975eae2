import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { add, fraction, negate, show, subtract, ZERO } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { pitchName } from '../../core/foundation/pitch.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Growth } from '../../core/growing/growth.ts';
import { copySection } from '../../core/growing/sections.ts';
import { clearBetween, splitAt } from '../../core/growing/split.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { applyTreatment } from '../../core/motif/apply.ts';
import { likelyMotif, motifOfReading } from '../../core/piece/motifOfReading.ts';
import { statementName } from '../../core/plan/naming.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { notesOfStatement, statementEnd, statementStart } from '../../core/plan/statement.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { isWrittenExactly } from '../../core/score/writable.ts';
import { drawnNotes, foundNotes, loaded, strokesOfMidi } from '../exchange/byVerovio.ts';

/** Crotchets of 4/4 by position (in crotchets from the first barline) and MIDI pitch. */
const readingOf = (
  notes: readonly (readonly [number, number])[],
  upbeat: number,
  period?: number,
): Reading => ({
  metre: metre(4, 4),
  tempo: 120,
  upbeat: fraction(upbeat, 4),
  grid: 'automatic',
  notes: notes.map(([at, pitch], strike) => ({
    onset: fraction(at, 4),
    duration: fraction(1, 4),
    pitch,
    strike,
    doubt: 0,
  })),
  dropped: [],
  misfit: 0,
  confidence: 1,
  reason: '',
  beats: [0, 0.5, 1],
  firstBeat: upbeat,
  ...(period === undefined ? {} : { period }),
});
const [C, E, G] = [60, 64, 67] as const;
/** G | C E G E | C, played twice: the second G is struck on the last beat of the second bar. */
const TWICE = readingOf(
  [-1, 7].flatMap(at => [G, C, E, G, E, C].map((pitch, i) => [at + i, pitch] as const)),
  1,
  2,
);
const ONCE = readingOf(
  [G, C, E, G, E, C].map((pitch, i) => [i - 1, pitch] as const),
  1,
);

const motifOf = (reading: Reading): Motif => motifOfReading(reading, key('C'), likelyMotif(reading));
const grown = (motif: Motif, plan: Plan, growth: Growth): Plan => {
  const made = grow(motif, plan, growth);
  if (!made.ok) throw new Error(made.problem.what);
  return made.value.plan;
};
const heard = (motif: Motif, plan: Plan): string[] =>
  plan.statements.flatMap(s =>
    notesOfStatement(motif, s).map(n => `${s.part} ${show(n.onset)} ${pitchName(n.pitch)}`),
  );

describe('an idea with an upbeat', () => {
  it.each([
    ['played twice', TWICE],
    ['played once', ONCE],
  ])('%s: repeats join as they are played, and no note is lost', (_, reading) => {
    const motif = motifOf(reading);
    const plan = grown(motif, firstPlan('xylophone', 120), { kind: 'repeat', statement: 's1', times: 2 });
    expect(heard(motif, plan)).toEqual(
      [-1, 7].flatMap(at =>
        ['G4', 'C4', 'E4', 'G4', 'E4', 'C4'].map((name, i) => `p1 ${show(fraction(at + i, 4))} ${name}`),
      ),
    );
  });

  it('that fills its last bar to the end has another bar to end in', () => {
    const motif = motifOf(
      readingOf(
        [G, C, E, G, E].map((pitch, i) => [i - 1, pitch] as const),
        1,
      ),
    );
    expect([show(motif.length), motif.notes.length]).toEqual(['2', 5]);
  });

  it('is written with a short bar before bar 1 and as much less in the last, by Verovio too', async () => {
    const motif = motifOf(TWICE);
    const start = grown(motif, firstPlan('xylophone', 120), { kind: 'repeat', statement: 's1', times: 2 });
    const plan = grown(motif, start, {
      kind: 'canon',
      statement: 's1',
      to: { newPart: 'marimba' },
      beats: 4,
    });
    const score = scoreOfPlan(motif, plan, 'Ferry', 'Heron');
    const [part] = score.parts;
    expect(part?.bars.map(b => [b.number, show(b.length)])).toEqual([
      [0, '1/4'],
      [1, '1'],
      [2, '1'],
      [3, '1'],
      [4, '3/4'],
    ]);
    expect(isWrittenExactly(score)).toBe(true);
    const reader = await loaded(musicXml(score));
    expect(foundNotes(reader)).toEqual(drawnNotes(score));
    expect(strokesOfMidi(Buffer.from(standardMidi(score)), 3)).toHaveLength(18);
  });

  it('keeps it in canon, sequence, retrograde, augmentation and copied sections', () => {
    const motif = motifOf(TWICE);
    const first = firstPlan('xylophone', 120);
    const canon = grown(motif, first, {
      kind: 'canon',
      statement: 's1',
      to: { newPart: 'marimba' },
      beats: 2,
    });
    expect(heard(motif, canon).filter(n => n.startsWith('p2'))[0]).toBe('p2 1/4 G4');
    const sequence = grown(motif, first, { kind: 'sequence', statement: 's1', steps: 1, copies: 1 });
    expect(heard(motif, sequence)[6]).toBe('p1 7/4 A4');
    expect(
      statementName(motif, sequence, sequence.statements[1] ?? first.statements[0] ?? neverThere()),
    ).toContain('sequence');
    const copied = copySection(motif, first, {
      from: 1,
      to: 2,
      toBar: 3,
      copies: 1,
      steps: 0,
      letter: false,
    });
    expect(copied.ok && heard(motif, copied.value.plan).slice(6)).toEqual(
      heard(motif, grown(motif, first, { kind: 'repeat', statement: 's1', times: 2 })).slice(6),
    );
    const wide = applyTreatment(motif, motif.key, { kind: 'augment', factor: fraction(2) });
    expect([show(wide.upbeat ?? ZERO), show(wide.notes[0]?.onset ?? ZERO)]).toEqual(['1/2', '-1/2']);
    // Backwards it lasts as long, and what was struck last comes first: it begins with a note and waits at its end.
    const back = applyTreatment(motif, motif.key, { kind: 'retrograde' });
    expect(back.notes.map(n => show(n.onset))).toEqual(['-1/4', '0', '1/4', '1/2', '3/4', '1']);
    expect(applyTreatment(back, motif.key, { kind: 'retrograde' })).toEqual(motif);
  });

  it('is refused where its upbeat would need a whole bar before bar 1', () => {
    const motif = { ...motifOf(ONCE), upbeat: fraction(3, 4) };
    const change: Growth = {
      kind: 'change',
      statement: 's1',
      treatments: [{ kind: 'augment', factor: fraction(2) }],
    };
    expect(grow(motif, firstPlan('xylophone', 120), change)).toMatchObject({
      ok: false,
      problem: { kind: 'out-of-range' },
    });
  });

  it('law: dividing a statement loses nothing of it, and nothing sounds outside its extent', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 7 }),
        fc.integer({ min: -7, max: 40 }),
        fc.integer({ min: 1, max: 3 }),
        fc.integer({ min: 1, max: 8 }),
        (upbeat, cut, times, more) => {
          const motif = motifOfReading(
            {
              ...TWICE,
              upbeat: fraction(upbeat, 8),
              notes: TWICE.notes.map(n => ({
                ...n,
                onset: add(n.onset, subtract(fraction(1, 4), fraction(upbeat, 8))),
              })),
            },
            key('C'),
            { from: 0, to: 2 },
          );
          const first = firstPlan('xylophone', 120);
          const plan: Plan = { ...first, statements: first.statements.map(s => ({ ...s, times })) };
          expect(heard(motif, splitAt(motif, plan, fraction(cut, 8), ['p1'])).sort()).toEqual(
            heard(motif, plan).sort(),
          );
          const to = fraction(cut + more, 8);
          for (const s of clearBetween(motif, plan, 'p1', fraction(cut, 8), to).statements) {
            for (const n of notesOfStatement(motif, s)) {
              expect(n.onset.n / n.onset.d < cut / 8 || n.onset.n / n.onset.d >= to.n / to.d).toBe(true);
            }
          }
          for (const s of plan.statements) {
            expect(statementStart(motif, s)).toEqual(negate(fraction(upbeat, 8)));
            expect(statementEnd(motif, s)).toEqual(subtract(fraction(2 * times), fraction(upbeat, 8)));
          }
        },
      ),
    );
  });
});

const neverThere = (): never => {
  throw new Error('no statement');
};
