import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import { inScale, key, type Key, MODE_NAMES, scaleMidi, toScale } from '../../core/foundation/key.ts';
import { LETTERS } from '../../core/foundation/pitch.ts';
import { metre } from '../../core/foundation/metre.ts';
import { applyChain } from '../../core/motif/apply.ts';
import { barsBetween, barsDrawnOver, glissandoIn } from '../../core/motif/glissando.ts';
import type { Motif, MotifNote, Passage } from '../../core/motif/motif.ts';
import type { Treatment } from '../../core/motif/treatment.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { notesOfStatement } from '../../core/plan/statement.ts';
import { neededToneBars } from '../../core/playable/check.ts';
import { concertSet } from '../../core/playable/presets.ts';
import { perform } from '../../core/playback/perform.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';

const C = key('C');
const note = (at: number, long: number, degree: number, to?: number): MotifNote => ({
  onset: fraction(at, 8),
  duration: fraction(long, 8),
  degree,
  alter: 0,
  ...(to === undefined ? {} : { gliss: { to: { degree: to, alter: 0 } } }),
});
/** C5, a glissando from D5 up to the next G5, and one down from there to nothing. */
const IDEA: Passage = {
  length: fraction(1),
  notes: [note(0, 2, 35), note(2, 2, 36, 39), note(4, 2, 39, 35)],
};
const MOTIF: Motif = { ...IDEA, key: C, metre: metre(4, 4) };
const lines = (chain: readonly Treatment[], passage = IDEA, k: Key = C): string[] =>
  applyChain(passage, k, chain).notes.map(n =>
    [n, ...(n.gliss === undefined ? [] : [n.gliss.to])].map(p => scaleMidi(k, p)).join('-'),
  );

// Neighbouring tones of the scale or of the chromatic scale (Piston, Orchestration: from memory).
describe('the bars of a glissando', () => {
  it('are those of the scale, those of both rows or the front row, between its ends', () => {
    const [c4, c5] = [
      { degree: 28, alter: 0 },
      { degree: 35, alter: 0 },
    ];
    expect(barsBetween(C, c4, { to: c5 })).toEqual([62, 64, 65, 67, 69, 71]);
    expect(barsBetween(C, c5, { to: c4 })).toEqual([71, 69, 67, 65, 64, 62]);
    expect(barsBetween(C, c4, { to: c5, over: 'all' })).toHaveLength(11);
    expect(barsBetween(C, c4, { to: { degree: 29, alter: 0 } })).toEqual([]);
    expect(barsBetween(C, c4, { to: c4 })).toEqual([]);
    // D major has F♯ and C♯; the front row has neither.
    const D = key('D');
    expect(barsBetween(D, { degree: 28, alter: 0 }, { to: { degree: 35, alter: 0 } })).toEqual([
      64, 66, 67, 69, 71, 73,
    ]);
    expect(
      barsBetween(D, { degree: 28, alter: 0 }, { to: { degree: 35, alter: 0 }, over: 'naturals' }),
    ).toEqual([64, 65, 67, 69, 71, 72]);
    // A set of five bars to the octave.
    const five = key('C', 'major pentatonic');
    expect(barsBetween(five, { degree: 20, alter: 0 }, { to: { degree: 25, alter: 0 } })).toEqual([
      62, 64, 67, 69,
    ]);
    // From an altered note: the plain one beside it is struck on the way.
    expect(barsBetween(C, { degree: 28, alter: -1 }, { to: { degree: 30, alter: 0 } })).toEqual([60, 62]);
  });

  it('are told by what was struck', () => {
    expect(
      glissandoIn(C, { strokes: [60, 62, 64, 65].map((pitch, strike) => ({ strike, pitch })), to: 67 }),
    ).toEqual({
      to: { degree: 32, alter: 0 },
    });
    const both = [60, 61, 62, 63].map((pitch, strike) => ({ strike, pitch }));
    expect(glissandoIn(C, { strokes: both, to: 64 }).over).toBe('all');
    expect(glissandoIn(C, { strokes: both, to: 63 }).over).toBe('all');
    // Two notes say nothing of the bars between.
    expect(barsDrawnOver(C, [60, 61])).toBeUndefined();
    expect(barsDrawnOver(key('E'), [60, 62, 64, 65, 67])).toBe('naturals');
    expect(barsDrawnOver(key('E'), [64, 66, 68, 69, 71])).toBeUndefined();
  });

  it('law: bars struck one after the other in any key are those that are heard, whatever it begins and ends on', () => {
    const front = [0, 2, 4, 5, 7, 9, 11];
    // In G major the front row from F natural has no F sharp.
    const strokes = [65, 67, 69, 71, 72].map((pitch, strike) => ({ strike, pitch }));
    const G = key('G');
    expect(barsBetween(G, toScale(G, 65), glissandoIn(G, { strokes, to: 72 }))).toEqual([67, 69, 71]);
    fc.assert(
      fc.property(
        fc.constantFrom(...LETTERS),
        fc.constantFrom(-1, 0, 1),
        fc.constantFrom(...MODE_NAMES),
        fc.tuple(fc.integer({ min: 36, max: 84 }), fc.integer({ min: 5, max: 24 }), fc.boolean()),
        fc.constantFrom('all', 'scale', 'front'),
        (letter, alter, mode, [low, over, isDown], row) => {
          const k: Key = { tonic: { letter, alter }, mode };
          const up = Array.from({ length: over + 1 }, (_, i) => low + i).filter(
            (p, i) =>
              i === 0 ||
              i === over ||
              row === 'all' ||
              (row === 'scale' ? inScale(k, p) : front.includes(p % 12)),
          );
          const struck = isDown ? [...up].reverse() : up;
          fc.pre(struck.length >= 5);
          const [first = 0, to = 0] = [struck[0], struck.at(-1)];
          const strokes = struck.map((pitch, strike) => ({ strike, pitch }));
          const heard = barsBetween(k, toScale(k, first), glissandoIn(k, { strokes, to }));
          expect(heard).toEqual(struck.slice(1, -1));
        },
      ),
      { numRuns: 400 },
    );
  });

  it('lie strictly between its ends, in its direction, whatever these are; the other way they are the same backwards', () => {
    const pitch = fc.record({
      degree: fc.integer({ min: -40, max: 100 }),
      alter: fc.integer({ min: -3, max: 3 }),
    });
    const kinds = fc.constantFrom(undefined, 'all' as const, 'naturals' as const);
    fc.assert(
      fc.property(
        pitch,
        pitch,
        kinds,
        fc.constantFrom(C, key('E'), key('C', 'major pentatonic')),
        (from, to, over, k) => {
          const line = over === undefined ? {} : { over };
          const bars = barsBetween(k, from, { to, ...line });
          const [first, last] = [scaleMidi(k, from), scaleMidi(k, to)];
          const whole = [first, ...bars, last];
          expect(
            first === last ? bars : whole.slice(1).map((p, i) => Math.sign(p - (whole[i] ?? 0))),
          ).toEqual(first === last ? [] : whole.slice(1).map(() => Math.sign(last - first)));
          expect(barsBetween(k, to, { to: from, ...line })).toEqual([...bars].reverse());
        },
      ),
    );
  });
});

describe('a glissando of the idea', () => {
  it('is moved with its note, turned over with it, and drawn the other way backwards', () => {
    expect(lines([])).toEqual(['72', '74-79', '79-72']);
    expect(lines([{ kind: 'transpose', by: 'scale', steps: 2 }])).toEqual(['76', '77-83', '83-76']);
    expect(lines([{ kind: 'transpose', by: 'semitone', steps: 1 }])).toEqual(['73', '75-80', '80-73']);
    expect(lines([{ kind: 'octave', octaves: -1 }])).toEqual(['60', '62-67', '67-60']);
    expect(lines([{ kind: 'invert', by: 'scale', axis: 35 }])).toEqual(['72', '71-65', '65-72']);
    expect(lines([{ kind: 'invert', by: 'semitone', axis: 72 }])).toEqual(['72', '70-65', '65-72']);
    // From nothing to C: begins where it ended.
    expect(lines([{ kind: 'retrograde' }])).toEqual(['72-79', '79-74', '72']);
    expect(lines([{ kind: 'augment', factor: fraction(2) }])).toEqual(['72', '74-79', '79-72']);
    expect(applyChain(IDEA, C, [{ kind: 'diminish', factor: fraction(2) }]).notes[1]?.duration).toEqual(
      fraction(1, 8),
    );
    expect(lines([{ kind: 'fragment', from: fraction(1, 4), to: fraction(3, 8) }])).toEqual(['74-79']);
  });

  it('backwards it takes its flam to the bar it begins on then, and its leading note beside that (common practice, no source)', () => {
    const led: Passage = {
      length: fraction(1, 4),
      notes: [
        {
          ...note(0, 2, 28, 32),
          grace: { degree: 28, alter: 0 },
          ruff: [{ degree: 27, alter: 0 }],
        },
      ],
    };
    const [back] = applyChain(led, C, [{ kind: 'retrograde' }]).notes;
    expect([back?.degree, back?.gliss?.to.degree]).toEqual([32, 28]);
    expect([back?.grace?.degree, back?.ruff?.[0]?.degree]).toEqual([32, 31]);
    expect(applyChain(led, C, [{ kind: 'retrograde' }, { kind: 'retrograde' }])).toEqual(led);
  });

  it('comes back from two inversions, two retrogrades, and a move up and down: a law', () => {
    const degree = fc.integer({ min: 20, max: 50 });
    const passages = fc
      .array(fc.record({ degree, to: fc.option(degree), alter: fc.integer({ min: -1, max: 1 }) }), {
        minLength: 1,
        maxLength: 8,
      })
      .map((all): Passage => ({
        length: fraction(all.length, 4),
        notes: all.map(({ degree: d, to, alter }, i) => ({ ...note(2 * i, 2, d, to ?? undefined), alter })),
      }));
    const twice: readonly (readonly Treatment[])[] = [
      [{ kind: 'retrograde' }, { kind: 'retrograde' }],
      [
        { kind: 'invert', by: 'scale', axis: 33 },
        { kind: 'invert', by: 'scale', axis: 33 },
      ],
      [
        { kind: 'transpose', by: 'scale', steps: 3 },
        { kind: 'transpose', by: 'scale', steps: -3 },
      ],
    ];
    fc.assert(
      fc.property(passages, fc.constantFrom(...twice), (passage, chain) => {
        expect(applyChain(passage, C, chain)).toEqual(passage);
      }),
    );
  });

  it('goes with its pitch where pitches are varied, and leads on from the last note of an ornament', () => {
    expect(lines([{ kind: 'pitches', from: [1, 0, 2] }])).toEqual(['74-79', '72', '79-72']);
    expect(lines([{ kind: 'lengths', from: [1, 0, 2] }])).toEqual(['72', '74-79', '79-72']);
    const with_ = (figure: 'twice' | 'upper' | 'grace'): string[] =>
      lines([{ kind: 'ornament', ornaments: [{ note: 1, figure }] }]);
    expect(with_('twice')).toEqual(['72', '74', '74-79', '79-72']);
    expect(with_('upper')).toEqual(['72', '74', '76', '74-79', '79-72']);
    expect(with_('grace')).toEqual(['72', '74-79', '79-72']);
  });

  it('is written, heard and told wherever it is stated, over the bars of its key', () => {
    const plan = firstPlan('marimba', 60);
    const score = scoreOfPlan(MOTIF, plan, 'Idea', 'Heron');
    expect(textScore(score)[2]).toBe(
      'Bar 1: C5 crotchet; D5 crotchet, glissando to G5; G5 crotchet, glissando to C5; crotchet rest',
    );
    const xml = musicXml(score);
    const kinds = [...xml.matchAll(/<glissando type="(\w+)"/g)].map(m => m[1]);
    // At the middle note one line ends before the next begins.
    expect(kinds).toEqual(['start', 'stop', 'start', 'stop']);
    const heard = perform(score).events.map(e => [Number(e.seconds.toFixed(3)), e.pitch]);
    expect(heard).toEqual([
      [0, 72],
      // D E F, and G is the next note; a second for all.
      [1, 74],
      [1.333, 76],
      [1.667, 77],
      // G F E D C: the last ends on no note, and is struck too.
      [2, 79],
      [2.2, 77],
      [2.4, 76],
      [2.6, 74],
      [2.8, 72],
    ]);
    const [first] = plan.statements;
    if (first === undefined) throw new Error('no statement');
    const inD = notesOfStatement(MOTIF, { ...first, onset: fraction(4) }, { keys: [{ bar: 4, moved: 2 }] });
    expect(inD[1]?.gliss?.between).toEqual([78, 79]);
  });

  it('needs the bars at its ends; what is not set out between is passed over', () => {
    const [first] = firstPlan('marimba', 60).statements;
    if (first === undefined) throw new Error('no statement');
    const open = { ...MOTIF, notes: [note(0, 2, 28, 32)] };
    expect(neededToneBars(open, concertSet('marimba'), [first]).map(b => b.name)).toEqual(['C4', 'G4']);
  });

  it('is not rolled with the rest, and a statement keeps it whatever is set on it', () => {
    const plan = firstPlan('marimba', 60);
    const [first] = plan.statements;
    if (first === undefined) throw new Error('no statement');
    const notes = notesOfStatement(MOTIF, {
      ...first,
      rolled: 'all',
      noteMarks: [{ time: 0, note: 1, mark: 'roll' }],
    });
    expect(notes.map(n => [n.roll === true, n.gliss !== undefined])).toEqual([
      [true, false],
      [false, true],
      [false, true],
    ]);
  });
});
