import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { add, fraction, less, show, subtract, times, toNumber } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { barLength, metre, type Metre } from '../../core/foundation/metre.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Growth } from '../../core/growing/growth.ts';
import { copySection } from '../../core/growing/sections.ts';
import { applyTreatment } from '../../core/motif/apply.ts';
import { type Motif, soundingEnd, upbeatOf, waitOf } from '../../core/motif/motif.ts';
import { type BarRange, likelyMotif, motifOfReading } from '../../core/piece/motifOfReading.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { notesOfStatement, statementEnd } from '../../core/plan/statement.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import type { Score } from '../../core/score/score.ts';
import { lineOf } from './anyUpbeat.ts';
import { drawnNotes, foundNotes, foundStrokes, loaded, strokesOfMidi } from '../exchange/byVerovio.ts';

// A piece that begins with an upbeat ends with a bar shortened by it, and so does an idea that is repeated (common
// practice, no source). What is expected here is counted in quavers, without the product's own functions.

const C = key('C');
const METRES: readonly Metre[] = [metre(4, 4), metre(3, 4), metre(6, 8), metre(5, 8)];
/** A quaver, a crotchet, a dotted crotchet that is three quavers. */
const UPBEATS = [1, 2, 3];

const motifOf = (reading: Reading, range: BarRange = likelyMotif(reading)): Motif =>
  motifOfReading(reading, C, range);
const grown = (motif: Motif, plan: Plan, growth: Growth): Plan => {
  const made = grow(motif, plan, growth);
  if (!made.ok) throw new Error(made.problem.what);
  return made.value.plan;
};
const repeated = (motif: Motif, count: number): Plan =>
  grown(motif, firstPlan('xylophone', 100), { kind: 'repeat', statement: 's1', times: count });
const quavers = (bar: Metre): number => toNumber(barLength(bar)) * 8;
/** Bars in which nobody plays. */
const silentBars = (score: Score): number =>
  Array.from({ length: score.barCount }).filter((_, i) =>
    score.parts.every(part => (part.bars[i]?.symbols ?? []).every(symbol => symbol.pitches.length === 0)),
  ).length;
const onsetsOf = (motif: Motif, plan: Plan, at = 0): readonly number[] => {
  const statement = plan.statements[at];
  return statement === undefined
    ? []
    : notesOfStatement(motif, statement, plan).map(n => toNumber(n.onset) * 8);
};

const ideas = fc.record({
  m: fc.constantFrom(...METRES),
  upbeat: fc.constantFrom(...UPBEATS),
  lengths: fc.array(fc.constantFrom(1, 1, 2, 2, 3, 4, 6, -1, -2), { minLength: 1, maxLength: 9 }),
  last: fc.integer({ min: 1, max: 16 }),
  count: fc.integer({ min: 2, max: 4 }),
});
/** Its first and its last are notes, and something is struck after its first barline. */
const readingOf = ({
  m,
  upbeat,
  lengths,
  last,
}: {
  m: Metre;
  upbeat: number;
  lengths: number[];
  last: number;
}) => lineOf(m, upbeat, [upbeat, ...lengths, last]);

describe('an idea with an upbeat', () => {
  it('law: n times it lasts n times as long, joins by whole bars, and brings no silent bar', () => {
    fc.assert(
      fc.property(ideas, idea => {
        const reading = readingOf(idea);
        const motif = motifOf(reading);
        const bar = quavers(idea.m);
        const length = toNumber(motif.length) * 8;
        expect(length % bar).toBe(0);
        const once = onsetsOf(motif, firstPlan('xylophone', 100));
        expect(once).toEqual(reading.notes.map(n => toNumber(n.onset) * 8));
        const plan = repeated(motif, idea.count);
        expect(onsetsOf(motif, plan)).toEqual(
          Array.from({ length: idea.count }).flatMap((_, i) => once.map(at => at + i * length)),
        );
        const [statement] = plan.statements;
        expect(statement && toNumber(statementEnd(motif, statement)) * 8).toBe(
          idea.count * length - idea.upbeat,
        );
        // The idea alone: bars of its own reading in which nothing sounds, up to its last note.
        const alone = scoreOfPlan(motif, firstPlan('xylophone', 100), '', '');
        const score = scoreOfPlan(motif, plan, '', '');
        expect(silentBars(score)).toBeLessThanOrEqual(idea.count * silentBars(alone));
        const lastBar = score.parts[0]?.bars.at(-1)?.symbols ?? [];
        expect(lastBar.some(symbol => symbol.pitches.length > 0)).toBe(true);
      }),
      { numRuns: 300, seed: 5 },
    );
  });

  it('law: a last note that rings on is cut at the upbeat; one that is struck there has a bar more', () => {
    fc.assert(
      fc.property(ideas, idea => {
        const reading = readingOf(idea);
        const motif = motifOf(reading);
        const bar = quavers(idea.m);
        const ends = reading.notes.map(n => toNumber(add(n.onset, n.duration)) * 8);
        const full = Math.ceil(Math.max(...ends) / bar) * bar;
        const struck = reading.notes.some(n => toNumber(n.onset) * 8 >= full - idea.upbeat);
        expect(toNumber(motif.length) * 8).toBe(struck ? full + bar : full);
        for (const [i, note] of motif.notes.entries()) {
          const to = Math.min(ends[i] ?? 0, struck ? full + bar - idea.upbeat : full - idea.upbeat);
          expect(toNumber(add(note.onset, note.duration)) * 8).toBe(to);
        }
      }),
      { numRuns: 300, seed: 6 },
    );
  });

  it('law: backwards it begins with a note within its first beat, twice backwards it is itself', () => {
    fc.assert(
      fc.property(ideas, idea => {
        const motif = motifOf(readingOf(idea));
        const back = applyTreatment(motif, C, { kind: 'retrograde' });
        const beat = idea.m.upper === 4 || idea.m.upper === 3 ? fraction(1, 4) : fraction(3, 8);
        const before = subtract(back.notes[0]?.onset ?? fraction(99), times(upbeatOf(back), -1));
        expect(less(before, beat)).toBe(true);
        expect(back.length).toEqual(motif.length);
        expect(applyTreatment(back, C, { kind: 'retrograde' }).notes).toEqual(motif.notes);
        const wide = applyTreatment(motif, C, { kind: 'augment', factor: fraction(2) });
        expect(toNumber(waitOf(wide))).toBe(2 * toNumber(waitOf(motif)));
        const narrow = applyTreatment(wide, C, { kind: 'diminish', factor: fraction(2) });
        expect([narrow.notes, narrow.length, waitOf(narrow)]).toEqual([
          motif.notes,
          motif.length,
          waitOf(motif),
        ]);
        const order = motif.notes.map((_, i) => motif.notes.length - 1 - i);
        const varied = applyTreatment(motif, C, { kind: 'lengths', from: order });
        // The silence that only waits is no length of a note: it stays at the end.
        const close = subtract(subtract(motif.length, upbeatOf(motif)), waitOf(motif));
        expect(less(close, soundingEnd(varied))).toBe(false);
        const upside = applyTreatment(motif, C, { kind: 'invert', by: 'scale', axis: 28 });
        expect(upside.notes.map(n => show(n.onset))).toEqual(motif.notes.map(n => show(n.onset)));
      }),
      { numRuns: 300, seed: 7 },
    );
  });

  it.each(METRES.flatMap(m => UPBEATS.map(upbeat => [m, upbeat] as const)))(
    '%j, an upbeat of %i quavers: repeated, in canon and imitation, copied; page, files and sound the same',
    async (m, upbeat) => {
      // The last note is as long as the bar: it rings into the place of the next upbeat.
      const bar = quavers(m);
      const motif = motifOf(lineOf(m, upbeat, [upbeat, 2, bar - 2, 1, bar - 1]));
      const once = [-upbeat, 0, 2, bar, bar + 1];
      expect(toNumber(motif.length) * 8).toBe(2 * bar);
      let plan = repeated(motif, 2);
      expect(onsetsOf(motif, plan)).toEqual([...once, ...once.map(at => at + 2 * bar)]);
      const to = { newPart: 'marimba' } as const;
      plan = grown(motif, plan, { kind: 'canon', statement: 's1', to, beats: m.upper === 4 ? 4 : 3 });
      plan = grown(motif, plan, {
        kind: 'imitation',
        statement: 's1',
        to: { newPart: 'vibraphone' },
        beats: m.upper === 4 ? 8 : 6,
        steps: 2,
      });
      const copied = copySection(motif, plan, {
        from: 1,
        to: 4,
        toBar: 9,
        copies: 1,
        steps: 0,
        letter: true,
      });
      if (!copied.ok) throw new Error(copied.problem.what);
      expect(onsetsOf(motif, copied.value.plan, 3).slice(0, 5)).toEqual(once.map(at => at + 8 * bar));
      const score = scoreOfPlan(motif, copied.value.plan, 'Ferry', 'Heron');
      const reader = await loaded(musicXml(score));
      expect(foundNotes(reader)).toEqual(drawnNotes(score));
      const midi = strokesOfMidi(Buffer.from(standardMidi(score)), 1);
      expect(midi).toEqual(foundStrokes(reader));
      expect(midi.length).toBeGreaterThan(36);
    },
  );
});
