import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { applyChain } from '../../core/motif/apply.ts';
import type { Motif, MotifNote, Passage } from '../../core/motif/motif.ts';
import type { Treatment } from '../../core/motif/treatment.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { notesOfStatement } from '../../core/plan/statement.ts';
import { perform } from '../../core/playback/perform.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';

const C = key('C');
const note = (at: number, long: number, degree: number, roll = false): MotifNote => ({
  onset: fraction(at, 8),
  duration: fraction(long, 8),
  degree,
  alter: 0,
  ...(roll ? { roll: true as const } : {}),
});
/** Crotchet, rolled minim, quaver, rolled quaver. */
const IDEA: Passage = {
  length: fraction(1),
  notes: [note(0, 2, 28), note(2, 4, 30, true), note(6, 1, 32), note(7, 1, 29, true)],
};
const MOTIF: Motif = { ...IDEA, key: C, metre: metre(4, 4) };

const CHAINS: readonly (readonly Treatment[])[] = [
  [{ kind: 'transpose', by: 'scale', steps: 2 }],
  [{ kind: 'transpose', by: 'semitone', steps: -3 }],
  [{ kind: 'octave', octaves: -1 }],
  [{ kind: 'augment', factor: fraction(2) }],
  [{ kind: 'diminish', factor: fraction(2) }],
  [{ kind: 'invert', by: 'scale', axis: 30 }],
  [{ kind: 'invert', by: 'semitone', axis: 64 }],
  [{ kind: 'retrograde' }],
  [
    { kind: 'retrograde' },
    { kind: 'invert', by: 'scale', axis: 30 },
    { kind: 'augment', factor: fraction(3, 2) },
  ],
  [{ kind: 'fragment', from: fraction(1, 4), to: fraction(7, 8) }],
];

// A roll is how a note is struck, and goes where it goes (common practice, no source).
describe('a rolled note of the idea', () => {
  it.each(CHAINS.map(chain => [chain.map(t => t.kind).join(', '), chain] as const))(
    'goes with its note through %s, and no other is rolled',
    (_, chain) => {
      const alone = { ...IDEA, notes: IDEA.notes.filter(n => n.roll === true) };
      const treated = applyChain(IDEA, C, chain);
      expect(treated.notes.filter(n => n.roll === true)).toEqual(applyChain(alone, C, chain).notes);
      expect(treated.notes.some(n => n.roll === undefined)).toBe(true);
    },
  );

  it('keeps its place in the rhythm where pitches are varied, and its note where lengths are', () => {
    const rolled = (p: Passage): boolean[] => p.notes.map(n => n.roll === true);
    expect(rolled(applyChain(IDEA, C, [{ kind: 'pitches', from: [1, 0, 3, 2] }]))).toEqual(rolled(IDEA));
    const lengths = applyChain(IDEA, C, [{ kind: 'lengths', from: [1, 0, 2, 3] }]);
    expect(lengths.notes.map(n => [n.degree, n.roll === true])).toEqual(
      IDEA.notes.map(n => [n.degree, n.roll === true]),
    );
    expect(
      rolled(applyChain(IDEA, C, [{ kind: 'ornament', ornaments: [{ note: 1, figure: 'twice' }] }])),
    ).toEqual([false, true, true, false, true]);
  });

  it('takes the grace note of an ornament in place of those it has', () => {
    const drag = { ...note(0, 8, 28), grace: { degree: 28, alter: 0 }, ruff: [{ degree: 28, alter: 0 }] };
    const [only] = applyChain({ length: fraction(1), notes: [drag] }, C, [
      { kind: 'ornament', ornaments: [{ note: 0, figure: 'grace' }] },
    ]).notes;
    expect(only).toEqual({ ...note(0, 8, 28), grace: { degree: 29, alter: 0 } });
  });

  it('is written, heard and told wherever it is stated, unless it is struck dead or left to ring', () => {
    const plan = firstPlan('marimba', 60);
    const [first] = plan.statements;
    if (first === undefined) throw new Error('no statement');
    const rolled = (noteMarks?: typeof first.noteMarks): boolean[] =>
      notesOfStatement(MOTIF, { ...first, ...(noteMarks === undefined ? {} : { noteMarks }) }).map(
        n => n.roll === true,
      );
    expect(rolled()).toEqual([false, true, false, true]);
    expect(rolled([{ time: 0, note: 1, mark: 'dead' }])).toEqual([false, false, false, true]);
    expect(rolled([{ time: 0, note: 3, mark: 'ring' }])).toEqual([false, true, false, false]);
    const score = scoreOfPlan(MOTIF, plan, 'Idea', 'Heron');
    expect(textScore(score).join(' ')).toMatch(/E4[^;]*rolled/);
    expect(
      musicXml(score)
        .match(/<tremolo type="single">[23]<\/tremolo>/g)
        ?.sort(),
    ).toEqual([
      '<tremolo type="single">2</tremolo>',
      '<tremolo type="single">3</tremolo>',
      // The minim is tied over the middle of the bar, and both its symbols have the sign.
      '<tremolo type="single">3</tremolo>',
    ]);
    // Twelve strokes a second for two seconds, and for half of one.
    const struck = (pitch: number): number => perform(score).events.filter(e => e.pitch === pitch).length;
    expect([struck(60), struck(64), struck(67), struck(62)]).toEqual([1, 24, 1, 6]);
  });
});
