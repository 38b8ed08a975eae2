import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { barIndexAt } from '../../core/foundation/barring.ts';
import { fraction, show } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { changeMetre } from '../../core/growing/changeMetre.ts';
import { lastBar } from '../../core/growing/sections.ts';
import type { Target } from '../../core/growing/growth.ts';
import type { Motif } from '../../core/motif/motif.ts';
import type { Accompaniment } from '../../core/plan/accompaniment.ts';
import { barringIn } from '../../core/plan/keys.ts';
import { notesOfStatement, statementEnd } from '../../core/plan/statement.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { editByHand } from '../../core/growing/detach.ts';
import { concertSet } from '../../core/playable/presets.ts';
import { neededToneBars } from '../../core/playable/check.ts';
import { anyBarredPiece, anyMetre } from './anyBarredPlan.ts';
import { barsInShort } from './barred.ts';
import { after, four, IDEA, scoreOf } from './keyed.ts';
import { inMetre, M34, M68 } from './metred.ts';

/** The part that accompanies already, or a new one. */
const partOf = ({ statements }: Plan): Target => {
  const there = statements.find(s => s.accompaniment !== undefined);
  return there === undefined ? { newPart: 'marimba' } : { part: there.part };
};
const under = (plan: Plan, what: Accompaniment, bars: number, bar = 1, motif: Motif = IDEA): Plan =>
  after(motif, plan, {
    kind: 'accompany',
    statement: 's1',
    what,
    to: partOf(plan),
    bar,
    bars,
  });
const drone = (figure: 'simple' | 'broken' | 'crossover'): Accompaniment => ({
  kind: 'drone',
  figure,
  steps: [21, 25],
});
const low = (plan: Plan): string[] => barsInShort(scoreOf(IDEA, plan), 1);

// Figures as for a drone made in that metre (test/plan/accompaniment), bars counted by hand: a drone is struck anew on the
// strong beats of each bar (common practice, no source).
describe('a drone or a chord under a later change of metre', () => {
  it('a simple one goes on in the bars of the new metre, for as long as it lasted', () => {
    const plan = under(four(), drone('simple'), 4);
    expect(low(inMetre(plan, 3, M34))).toEqual(['C3+G3 C3+G3', 'C3+G3 C3+G3', 'C3+G3', 'C3+G3', 'C3+G3 r4']);
    expect(low(inMetre(plan, 3, M68)).slice(2)).toEqual(['C3+G3 C3+G3', 'C3+G3 C3+G3', 'C3+G3 C3+G3 r8 r8']);
  });

  it('a broken one strikes every beat of it, low note first in each bar', () => {
    const plan = under(four(), drone('broken'), 4);
    expect(low(inMetre(plan, 3, M34)).slice(1)).toEqual(['C3 G3 C3 G3', 'C3 G3 C3', 'C3 G3 C3', 'C3 G3 r4']);
    expect(low(inMetre(plan, 3, metre(2, 2)))[3]).toBe('C3 G3 C3 G3');
  });

  it('a chord goes with the tune: held to the barline, struck again after it', () => {
    const first = under(four(), { kind: 'chord', steps: [21, 25] }, 3);
    const plan = under(first, { kind: 'chord', steps: [24, 28] }, 1, 4);
    // The tune's fourth bar begins at the second crotchet of the fifth.
    expect(low(inMetre(plan, 3, M34)).slice(2)).toEqual(['C3+G3', 'C3+G3 F3+C4', 'F3+C4 r4']);
  });

  it('taken away, its old figure is back; what was made in the new metre follows the old one then', () => {
    const plan = under(four(), drone('crossover'), 4);
    const waltz = inMetre(plan, 3, M34);
    expect(low(waltz)).not.toEqual(low(plan));
    expect(low(inMetre(waltz, 3, metre(4, 4)))).toEqual(low(plan));
    const made = under(inMetre(four(), 3, M34), drone('broken'), 2, 3);
    expect(low(inMetre(made, 3, metre(4, 4))).slice(2)).toEqual(['C3 G3 C3 G3', 'C3 G3 r2']);
  });

  it('what its figure needs in the new metre is set out', () => {
    // Three beats cross to the octave over the low note, one beat of a bar of two does not.
    const plan = under(four(), { kind: 'drone', figure: 'crossover', steps: [21, 25] }, 4, 1);
    const bars = (p: Plan): string[] =>
      neededToneBars(IDEA, concertSet('marimba'), p.statements.slice(-1), p).map(b => b.name);
    expect(bars(plan)).toEqual(['C3', 'G3', 'C4']);
    const short = under(inMetre(four(), 3, metre(3, 8)), { ...drone('broken'), steps: [21, 25] }, 1, 3);
    expect(bars(short)).toEqual(['C3', 'G3']);
  });

  it('needs in the old metre what it had no time for in the new one', () => {
    // Three quavers a bar reach the octave; of crotchets, one time through would have only two.
    const made = under(inMetre(four(), 2, metre(3, 8)), drone('crossover'), 4, 2);
    const back = inMetre(made, 2, metre(4, 4));
    const bars = neededToneBars(IDEA, concertSet('marimba'), back.statements.slice(-1), back);
    expect(bars.map(b => b.name)).toEqual(['C3', 'G3', 'C4']);
  });

  it('each of its notes can be told from the others, and a mark stands in the bar it names', () => {
    const plan = inMetre(under(four(), drone('simple'), 4), 3, M34);
    const drones = plan.statements.slice(-1);
    const [one] = drones;
    if (one === undefined) throw new Error('no drone');
    const refs = notesOfStatement(IDEA, one, plan).map(n => n.ref);
    expect(new Set(refs).size).toBe(refs.length);
    expect(refs.at(-1)).toBe(`${one.id}:4:1`);
    const marked = {
      ...plan,
      statements: plan.statements.map(s =>
        s === one ? { ...s, noteMarks: [{ time: 3, note: 0, mark: 'dead' as const }] } : s,
      ),
    };
    const dead = scoreOf(IDEA, marked).parts[1]?.bars.map(b => b.symbols.some(s => s.dead === true));
    expect(dead).toEqual([false, false, false, true, false]);
  });

  it('moved by an octave it still follows; slower, by hand, or an ending, it stays what it is', () => {
    const plan = under(four(), drone('simple'), 4);
    const id = plan.statements.at(-1)?.id ?? '';
    const higher = after(IDEA, plan, {
      kind: 'change',
      statement: id,
      treatments: [{ kind: 'octave', octaves: 1 }],
    });
    expect(low(inMetre(higher, 3, M34))[2]).toBe('C4+G4');
    const slower = after(IDEA, under(four(), drone('broken'), 2), {
      kind: 'change',
      statement: id,
      treatments: [{ kind: 'augment', factor: fraction(2) }],
    });
    // Minims over barlines of three crotchets.
    expect(low(inMetre(slower, 3, M34)).slice(2)).toEqual(['C3 G3~', '~G3 C3', 'G3 r4']);
    const byHand = editByHand(IDEA, plan, id, { kind: 'steps', note: 0, steps: 1 });
    expect(low(inMetre(byHand, 3, M34))[2]).toContain('D3');
    const ended = after(IDEA, four(), { kind: 'ending', statement: 's1', steps: { p1: 35 } });
    const bars = barsInShort(scoreOf(IDEA, inMetre(ended, 3, M34)));
    expect(bars.at(-1)).toContain('~');
  });

  it('a last long note lasts the bar it stands in, shorter or longer, and is given back', () => {
    const ended = after(IDEA, four(), { kind: 'ending', statement: 's1', steps: { p1: 35 } });
    // Three bars of 4/4 are four of 3/4, and the ending stands on a barline.
    const shorter = inMetre(ended, 2, M34);
    const last = scoreOf(IDEA, shorter).parts[0]?.bars.at(-1)?.symbols;
    expect(last?.map(s => [s.duration, s.value, s.tiedTo])).toEqual([
      [fraction(3, 4), { base: 2, dots: 1 }, false],
    ]);
    expect(inMetre(shorter, 2, metre(4, 4))).toEqual({ ...ended, letters: shorter.letters });
    const longer = inMetre(ended, 3, metre(2, 2));
    expect(scoreOf(IDEA, longer).parts[0]?.bars.at(-1)?.symbols[0]?.duration).toEqual(fraction(1));
  });
});

describe('figures in the metre in force, over random pieces', () => {
  const kinds: readonly Accompaniment[] = [
    drone('simple'),
    drone('broken'),
    drone('crossover'),
    { kind: 'chord', steps: [21, 25] },
  ];

  it('one made before the change is the same as one made after it, as far as it goes, and back again', () => {
    let changes = 0;
    fc.assert(
      fc.property(
        anyBarredPiece,
        anyMetre,
        fc.constantFrom(...kinds),
        fc.nat(9),
        ({ motif, plan: made }, to, what, at) => {
          const plan = { ...made, nextId: 40 };
          const bars = lastBar(motif, plan);
          const bar = 2 + (at % Math.max(1, bars - 1));
          const before = under(plan, what, bars, 1, motif);
          const changed = changeMetre(motif, before, bar, to);
          const alone = changeMetre(motif, plan, bar, to);
          // A drone through a letter keeps it from waiting: nothing to compare.
          if (!changed.ok || !alone.ok) return;
          const after = under(alone.value, what, lastBar(motif, alone.value), 1, motif);
          const part = plan.parts.length;
          const told = (p: Plan): string[] =>
            (scoreOf(motif, p).parts[part]?.bars ?? []).map(b =>
              b.symbols
                .map(s => `${s.pitches.map(x => x.spelled.letter).join('')} ${show(s.duration)}`)
                .join(', '),
            );
          const [early, late] = [told(changed.value), told(after)];
          const one = changed.value.statements.at(-1);
          if (one === undefined) throw new Error('no drone');
          // Bars it lasts through to the end.
          const whole = barIndexAt(barringIn(motif, changed.value), statementEnd(motif, one));
          expect(early.slice(0, whole)).toEqual(late.slice(0, whole));
          const back = changeMetre(motif, changed.value, bar, motif.metre);
          expect(back.ok && told(back.value)).toEqual(told(before));
          changes++;
        },
      ),
      { numRuns: 150 },
    );
    expect(changes).toBeGreaterThan(20);
  });
});
