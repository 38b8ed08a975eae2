import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { add, fraction, less, show, subtract, toNumber } from '../../core/foundation/fraction.ts';
import { type Key, key } from '../../core/foundation/key.ts';
import { metre, type Metre } from '../../core/foundation/metre.ts';
import { midiOf } from '../../core/foundation/pitch.ts';
import { lastNotes } from '../../core/growing/ending.ts';
import { grow } from '../../core/growing/grow.ts';
import { barsOfStatement, lastBar } from '../../core/growing/sections.ts';
import { INSTRUMENT_IDS, INSTRUMENTS, type InstrumentId } from '../../core/instruments/instruments.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { likelyMotif, motifOfReading } from '../../core/piece/motifOfReading.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { notesOfStatement, statementEnd } from '../../core/plan/statement.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import type { Score } from '../../core/score/score.ts';
import { FIRST_CHOICE } from '../../renderer/views/grow/cardChoice.ts';
import { endingOf, lastOf } from '../../renderer/views/grow/lowNotes.ts';
import { anyIdea, lineOf, quavers, silentBarsOf } from '../laws/anyUpbeat.ts';

/** Crotchets on these degrees, one after the other. */
const tune = (k: Key, ...degrees: number[]): Motif => ({
  key: k,
  metre: metre(4, 4),
  length: fraction(1),
  notes: degrees.map((degree, i) => ({ onset: fraction(i, 4), duration: fraction(1, 4), degree, alter: 0 })),
});
const on = (instrument: InstrumentId): Plan => firstPlan(instrument, 90);
const ended = (motif: Motif, plan: Plan): { readonly plan: Plan; readonly score: Score } => {
  const steps = Object.fromEntries(plan.parts.map(p => [p.id, lastNotes(motif, plan, p.id).usual.step]));
  const done = grow(motif, plan, { kind: 'ending', statement: 's1', steps });
  if (!done.ok) throw new Error(done.problem.what);
  return { plan: done.value.plan, score: scoreOfPlan(motif, done.value.plan, '', '') };
};
const lengthsOf = (score: Score): readonly string[] => score.parts[0]?.bars.map(b => show(b.length)) ?? [];

describe('an ending of a piece that ends so already', () => {
  const idea = tune(key('C'), 28, 30, 32, 35);
  const again = (plan: Plan, steps: Record<string, number>): Plan => {
    const done = grow(idea, plan, { kind: 'ending', statement: 's1', steps });
    if (!done.ok) throw new Error(done.problem.what);
    return done.value.plan;
  };
  const drawn = (plan: Plan): readonly string[] =>
    scoreOfPlan(idea, plan, '', '').parts.map(p =>
      (p.bars.at(-1)?.symbols ?? []).flatMap(s => s.pitches.map(n => String(midiOf(n.spelled)))).join(' '),
    );

  it('takes its place: no second bar, the new notes, and the marks of the old ones', () => {
    const one = ended(idea, on('xylophone')).plan;
    const held: Plan = {
      ...one,
      statements: one.statements.map(s => (s.accompaniment === undefined ? s : { ...s, dynamic: 'ff' })),
    };
    const other = again(held, { p1: 32 });
    expect(lengthsOf(scoreOfPlan(idea, other, '', ''))).toEqual(['1', '1']);
    expect(drawn(other)).toEqual(['67']);
    expect(other.statements).toHaveLength(2);
    expect(other.statements.at(-1)?.dynamic).toBe('ff');
    // The same once more changes nothing that is seen or heard.
    expect(scoreOfPlan(idea, again(other, { p1: 32 }), '', '').parts).toEqual(
      scoreOfPlan(idea, other, '', '').parts,
    );
    // What is usual is told of what comes before it, not of an ending an octave away.
    expect(lastNotes(idea, again(one, { p1: 42 }), 'p1')).toEqual(lastNotes(idea, on('xylophone'), 'p1'));
  });

  it('is for the parts it is chosen for, and follows what sounds last', () => {
    const two: Plan = {
      ...on('xylophone'),
      parts: [...on('xylophone').parts, { id: 'p2', instrument: 'marimba' }],
    };
    const one = ended(idea, two).plan;
    expect(drawn(again(one, { p2: 21 }))).toEqual(['', '48']);
    const longer = grow(
      idea,
      again(one, { p2: 21 }),
      { kind: 'repeat', statement: 's1', times: 3 },
      'postpone',
    );
    expect(longer.ok).toBe(true);
    // What plays on in that bar is no ending: another one comes after it.
    const on2: Plan = {
      ...one,
      statements: [
        ...one.statements.filter(x => x.part === 'p1'),
        { id: 's99', part: 'p2', onset: fraction(1), chain: [], times: 1 },
      ],
    };
    const third = scoreOfPlan(idea, again(on2, { p1: 35 }), '', '');
    expect(lengthsOf(third)).toHaveLength(3);
    expect(third.parts[0]?.bars[1]?.symbols[0]?.pitches).toHaveLength(1);
  });
});

describe('the usual last note', () => {
  // Counted on the stave: from the last note to the nearest C (or tonic), up or down; from F♯ the C below.
  it.each<[Key, number, InstrumentId, string]>([
    [key('C'), 34, 'xylophone', 'C5'],
    [key('C'), 30, 'xylophone', 'C4'],
    [key('C'), 31, 'marimba', 'C4'],
    [key('C'), 32, 'marimba', 'C5'],
    [key('C'), 41, 'marimba', 'C6'],
    [key('C'), 45, 'marimba', 'C6'],
    [key('D', 'minor'), 33, 'vibraphone', 'D5'],
    [key('F', 'lydian'), 28, 'vibraphone', 'F4'],
    [key('G', 'major pentatonic'), 23, 'marimba', 'G5'],
    // Its lowest bars end over the tonic: the next one there is.
    [key('E', 'major', -1), 21, 'glockenspiel', 'E♭4'],
    [key('C'), 25, 'xylophone', 'C4'],
    [key('C'), 42, 'glockenspiel', 'C6'],
  ])('in %j, after step %i, on the %s: %s', (k, last, instrument, expected) => {
    const { usual, choices } = lastNotes(tune(k, last + 2, last + 1, last), on(instrument), 'p1');
    expect(usual.name).toBe(expected);
    expect(choices.filter(c => c.step === usual.step)).toEqual([usual]);
  });

  it('is told of the notes as they sound last: moved, in another key, of the lowest of a figure', () => {
    const idea = tune(key('C'), 28, 30, 34);
    const plan = on('marimba');
    const octave: Plan = {
      ...plan,
      statements: plan.statements.map(s => ({ ...s, chain: [{ kind: 'octave', octaves: 1 }] })),
    };
    expect(lastNotes(idea, octave, 'p1').usual.name).toBe('C6');
    // A fifth higher from bar 2 on, B4 is F♯5, and the tonic G.
    const keyed: Plan = {
      ...plan,
      keys: [{ bar: 1, moved: 7 }],
      statements: plan.statements.map(s => ({ ...s, times: 2 })),
    };
    expect(lastNotes(idea, keyed, 'p1').usual.name).toBe('G5');
    const drone: Plan = {
      ...plan,
      parts: [...plan.parts, { id: 'p2', instrument: 'marimba' }],
      statements: [
        ...plan.statements,
        {
          id: 's2',
          part: 'p2',
          onset: fraction(0),
          chain: [],
          times: 1,
          accompaniment: { kind: 'drone', figure: 'broken', steps: [21, 25] },
        },
      ],
    };
    expect(lastNotes(idea, drone, 'p2').usual.name).toBe('C3');
    expect(lastNotes(idea, { ...drone, statements: plan.statements }, 'p2').usual.name).toBe('C5');
  });

  it('is what the card takes and its miniature shows; what was chosen outranks it', () => {
    const idea = tune(key('C'), 28, 30, 34);
    const plan = on('marimba');
    const [first] = plan.statements;
    if (first === undefined) throw new Error('a plan has a statement');
    expect(lastOf(FIRST_CHOICE, idea, plan, 'p1')).toBe(35);
    expect(endingOf(FIRST_CHOICE, idea, first)).toEqual({ kind: 'ending', steps: [35] });
    const chosen = { ...FIRST_CHOICE, last: { p1: 32 } };
    expect(lastOf(chosen, idea, plan, 'p1')).toBe(32);
    expect(endingOf(chosen, idea, first)).toEqual({ kind: 'ending', steps: [32] });
  });

  it('law: it is a tonic the instrument has, none is nearer, and every choice can be struck', () => {
    const tonic: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
    const keys = fc.constantFrom(key('C'), key('A', 'minor'), key('D', 'dorian'), key('F'), key('G'));
    fc.assert(
      fc.property(
        keys,
        fc.integer({ min: 14, max: 49 }),
        fc.constantFrom(...INSTRUMENT_IDS),
        (k, last, id) => {
          const idea = tune(k, last);
          const plan = on(id);
          const { low, high } = INSTRUMENTS[id];
          const { usual, choices } = lastNotes(idea, plan, 'p1');
          const { plan: after } = ended(idea, plan);
          const [tuned, own] = after.statements.map(s => notesOfStatement(idea, s, after)[0]);
          if (tuned === undefined || own === undefined) throw new Error('both sound');
          const [was, is] = [midiOf(tuned.pitch), midiOf(own.pitch)];
          const all = Array.from({ length: 128 }, (_, midi) => midi).filter(
            midi => midi % 12 === tonic[k.tonic.letter] && midi >= low && midi <= high,
          );
          expect(Math.abs(is - was)).toBe(Math.min(...all.map(midi => Math.abs(midi - was))));
          expect(all).toContain(is);
          expect(choices.map(c => c.step)).toContain(usual.step);
          expect(new Set(choices.map(c => c.name)).size).toBe(choices.length);
        },
      ),
      { numRuns: 200, seed: 8 },
    );
  });
});

describe('an ending of a piece with an upbeat', () => {
  const ideaOf = (m: Metre, upbeat: number, ...lengths: number[]): Motif => {
    const reading = lineOf(m, upbeat, [upbeat, ...lengths]);
    return motifOfReading(reading, key('C'), likelyMotif(reading));
  };

  // In quavers. G | C E G E: the bar is full, and the next upbeat would be a bar later; the ending is not.
  it.each<[Metre, number, readonly number[], number]>([
    [metre(4, 4), 2, [2, 2, 2, 2], 2],
    [metre(4, 4), 2, [2, 2, 2, 2, 8], 3],
    [metre(3, 4), 1, [2, 2, 1, 1], 2],
    [metre(6, 8), 1, [3, 3], 2],
    [metre(5, 8), 3, [3, 2], 2],
    [metre(12, 8), 3, [3, 3, 3, 3], 2],
  ])(
    '%j, upbeat %i, %j: it stands in bar %i, straight after, shorter by the upbeat',
    (m, upbeat, lengths, bar) => {
      const idea = ideaOf(m, upbeat, ...lengths);
      const { plan, score } = ended(idea, on('xylophone'));
      expect(toNumber(plan.statements[1]?.onset ?? fraction(99)) * 8).toBe((bar - 1) * quavers(m));
      expect(silentBarsOf(score)).toEqual([]);
      expect(score.barCount).toBe(bar + 1);
      expect(lengthsOf(score).at(-1)).toBe(show(fraction(quavers(m) - upbeat, 8)));
      expect(lengthsOf(score)[0]).toBe(show(fraction(upbeat, 8)));
    },
  );

  it('law: it follows on the first barline after the last sound, and a drone goes as far as the tune', () => {
    fc.assert(
      fc.property(anyIdea, ({ motif, upbeat }) => {
        const before = on('xylophone');
        const [first] = before.statements;
        if (first === undefined) throw new Error('a plan has a statement');
        const bar = quavers(motif.metre);
        const sounds = Math.max(...motif.notes.map(n => toNumber(add(n.onset, n.duration)) * 8));
        const full = Math.max(1, Math.ceil(sounds / bar));
        const { plan, score } = ended(motif, before);
        const onset = toNumber(plan.statements[1]?.onset ?? fraction(99)) * 8;
        expect(onset).toBe(full * bar);
        expect(lastBar(motif, before)).toBe(full);
        expect(barsOfStatement(motif, before, first)).toEqual({ from: 1, to: full });
        const end = statementEnd(motif, plan.statements[1] ?? first);
        expect(toNumber(subtract(end, fraction(onset, 8))) * 8).toBe(bar - upbeat);
        expect(less(end, fraction(onset, 8))).toBe(false);
        expect(score.parts[0]?.bars.at(-1)?.symbols.every(s => s.pitches.length > 0)).toBe(true);
      }),
      { numRuns: 300, seed: 9 },
    );
  });
});
