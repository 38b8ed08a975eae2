import { describe, expect, it } from 'vitest';
import { fraction, show } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { changeMetre } from '../../core/growing/changeMetre.ts';
import { toggleLetter } from '../../core/growing/letters.ts';
import { lastBar, sectionsOf } from '../../core/growing/sections.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { statementName } from '../../core/plan/naming.ts';
import { beatsAway, barAndBeat } from '../../core/plan/beats.ts';
import { barringIn } from '../../core/plan/keys.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { barsInShort, ideaOf } from './barred.ts';
import { after, four, IDEA, scoreOf } from './keyed.ts';
import { M34, M68, inMetre, metresOf, canonAfter, onsets, sections } from './metred.ts';

describe('another metre at a letter', () => {
  it('4/4 to 3/4: the same crotchets, three to a bar, tied nowhere, the last bar filled with a rest', () => {
    const plan = inMetre(four(), 3, M34);
    expect(metresOf(plan)).toEqual(['2 3/4']);
    expect(plan.letters).toEqual([{ bar: 2, letter: 'A' }]);
    expect(barsInShort(scoreOf(IDEA, plan))).toEqual([
      'C5 E5 G5 D5',
      'C5 E5 G5 D5',
      'C5 E5 G5',
      'D5 C5 E5',
      'G5 D5 r4',
    ]);
  });

  it('a note across a new barline is tied', () => {
    const minims = ideaOf([
      [0, 2],
      [1, 2],
    ]);
    const plan = inMetre(four(minims), 3, M34, minims);
    expect(barsInShort(scoreOf(minims, plan)).slice(2)).toEqual(['C5 E5~', '~E5 C5', 'E5 r4']);
  });

  it('4/4 to 6/8: quavers stay quavers, in beats of three', () => {
    const plan = inMetre(four(), 3, M68);
    // A crotchet on the third quaver of a beat is tied over the middle of the bar.
    expect(barsInShort(scoreOf(IDEA, plan)).slice(2)).toEqual([
      'C5 E5~ ~E5 G5',
      'D5 C5~ ~C5 E5',
      'G5 D5~ ~D5 r8 r8',
    ]);
    expect(scoreOf(IDEA, plan).tempi).toBeUndefined();
  });

  it('the metre before takes it away again, and what was there before is there again', () => {
    const before = toggleLetter(four(), 3);
    expect(inMetre(inMetre(before, 3, M34), 3, metre(4, 4))).toEqual(before);
  });

  it('bars are numbered, sections and beats told through the change', () => {
    const plan = inMetre(four(), 3, M34);
    expect(lastBar(IDEA, plan)).toBe(5);
    expect(sectionsOf(IDEA, plan)).toEqual([
      { name: 'the opening', from: 1, to: 2 },
      { name: 'A', from: 3, to: 5 },
    ]);
    expect(scoreOf(IDEA, plan).parts[0]?.bars.map(b => [b.number, show(b.start), show(b.length)])).toEqual([
      [1, '0', '1'],
      [2, '1', '1'],
      [3, '2', '3/4'],
      [4, '11/4', '3/4'],
      [5, '7/2', '3/4'],
    ]);
    const barring = barringIn(IDEA, inMetre(four(), 3, M68));
    expect(barAndBeat(barring, fraction(19, 8))).toEqual({ bar: 3, beat: 2 });
    // Two beats on from the last of 4/4: the first and second of 6/8; and back again.
    expect(show(beatsAway(barring, fraction(7, 4), 2))).toBe('19/8');
    expect(show(beatsAway(barring, fraction(19, 8), -2))).toBe('7/4');
    expect(show(beatsAway(barring, fraction(19, 8), -3))).toBe('3/2');
  });
});

describe('what comes after the change', () => {
  it('waits for a barline where its letter would fall within a bar, and no longer when the change goes', () => {
    const plan = inMetre(sections(), 3, M34);
    // Eight crotchets of B in 3/4 end in the third bar: C waits a crotchet.
    expect(plan.letters.map(l => l.bar)).toEqual([0, 2, 5]);
    expect(onsets(plan)).toEqual(['0', '2', '17/4']);
    expect(plan.pauses).toEqual([{ bar: 5, length: fraction(1, 4) }]);
    expect(inMetre(plan, 3, metre(4, 4))).toEqual(sections());
  });

  it('goes back to the first metre at the next letter: a form of A B A', () => {
    const plan = inMetre(inMetre(sections(), 3, M34), 6, metre(4, 4));
    expect(metresOf(plan)).toEqual(['2 3/4', '5 4/4']);
    expect(barsInShort(scoreOf(IDEA, plan))).toEqual([
      'C5 E5 G5 D5',
      'C5 E5 G5 D5',
      'C5 E5 G5',
      'D5 C5 E5',
      'G5 D5 r4',
      'C5 E5 G5 D5',
      'C5 E5 G5 D5',
    ]);
    // The one change taken away, the other goes with it: it changes nothing any more.
    expect(inMetre(plan, 3, metre(4, 4))).toEqual(sections());
  });

  it('does not wait where a part sounds across its letter, and says so', () => {
    const [s1, s2] = sections().statements;
    if (s1 === undefined || s2 === undefined) throw new Error('no statements');
    const across: Plan = { ...sections(), statements: [s1, { ...s2, times: 4 }] };
    expect(changeMetre(IDEA, across, 3, M34)).toEqual({
      ok: false,
      problem: {
        kind: 'conflict',
        what: 'In 3/4 letter C would begin in the middle of a bar, and the xylophone plays across it, so it cannot wait.',
        kept: 'Nothing was changed.',
        next: 'Let the xylophone stop before letter C, or take away what is marked there first.',
      },
    });
    // Three bars of 4/4 are four of 3/4: nothing has to wait, and what sounds across is barred anew.
    const three: Plan = {
      ...across,
      letters: [
        { bar: 2, letter: 'A' },
        { bar: 5, letter: 'B' },
      ],
    };
    expect(inMetre(three, 3, M34).letters.map(l => l.bar)).toEqual([2, 6]);
  });

  it('keeps a pause into which something was put since', () => {
    const waiting = inMetre(sections(), 3, M34);
    const filled: Plan = {
      ...waiting,
      statements: [
        ...waiting.statements,
        {
          id: 's9',
          part: 'p1',
          onset: fraction(4),
          chain: [{ kind: 'fragment', from: fraction(0), to: fraction(1, 4) }],
          times: 1,
        },
      ],
    };
    const back = inMetre(filled, 3, metre(4, 4));
    // The crotchet stays where it was put; C waits for the barline after it.
    expect(onsets(back)).toEqual(['0', '2', '5', '4']);
    expect(back.letters.map(l => l.bar)).toEqual([0, 2, 5]);
  });

  it('keeps it too where another part plays in it', () => {
    const waiting = inMetre(sections(), 3, M34);
    const [first] = waiting.statements;
    if (first === undefined) throw new Error('no statement');
    const filled: Plan = {
      ...waiting,
      parts: [...waiting.parts, { id: 'p2', instrument: 'marimba' }],
      statements: [
        ...waiting.statements,
        {
          ...first,
          id: 's9',
          part: 'p2',
          onset: fraction(4),
          times: 1,
          chain: [{ kind: 'fragment', from: fraction(0), to: fraction(1, 4) }],
        },
      ],
    };
    expect(onsets(inMetre(filled, 3, metre(4, 4)))).toEqual(['0', '2', '5', '4']);
  });

  it('a follower that enters after the change is told in the beats of its leader', () => {
    const canon = canonAfter(6);
    // Six crotchets later is bar 2, beat 3; in 6/8 from bar 2 on it would be five quavers into that bar.
    const plan = inMetre(canon, 2, M68);
    const second = plan.statements[1];
    expect(second && statementName(IDEA, plan, second)).toContain('canon, six beats later');
  });

  it('an upbeat longer than a bar of the last metre shortens nothing', () => {
    const upbeat = fraction(1, 2);
    const notes = IDEA.notes.map(n => ({
      ...n,
      onset: fraction(n.onset.n * 4 - 2 * n.onset.d, 4 * n.onset.d),
    }));
    const idea: Motif = { ...IDEA, upbeat, notes };
    const plan = inMetre(four(idea), 3, metre(2, 4), idea);
    const bars = scoreOf(idea, plan).parts[0]?.bars ?? [];
    expect(bars.every(bar => bar.length.n > 0)).toBe(true);
    expect(
      barsInShort(scoreOf(idea, plan))
        .join(' ')
        .split(' ')
        .filter(s => !s.startsWith('r')),
    ).toHaveLength(16);
  });

  it('a canon runs over the change, and is named in the beats in which it began', () => {
    const canon = canonAfter(2);
    const plan = inMetre(canon, 3, M34);
    expect(onsets(plan)).toEqual(['0', '1/2']);
    const second = plan.statements[1];
    expect(second && statementName(IDEA, plan, second)).toContain('canon, two beats later');
    expect(barsInShort(scoreOf(IDEA, plan), 1)).toEqual([
      'r2 C5 E5',
      'G5 D5 C5 E5',
      'G5 D5 C5',
      'E5 G5 D5',
      'R',
    ]);
  });
});

describe('what cannot be', () => {
  it.each([
    [1, M34],
    [5, M34],
    [2.5, M34],
    [Number.NaN, M34],
  ])('no change at bar %s', (bar, to) => {
    expect(changeMetre(IDEA, four(), bar, to)).toMatchObject({
      ok: false,
      problem: { kind: 'out-of-range' },
    });
  });

  it('swung pairs need beats that divide in two', () => {
    const swung: Motif = { ...IDEA, swing: { ratio: 2, unit: fraction(1, 8) } };
    expect(changeMetre(swung, four(swung), 3, M68)).toMatchObject({
      ok: false,
      problem: { what: expect.stringContaining('6/8') as string },
    });
    expect(changeMetre(swung, four(swung), 3, M34).ok).toBe(true);
  });

  it('a piece does not grow beyond its bars', () => {
    const long = after(IDEA, firstPlan('xylophone', 90), { kind: 'repeat', statement: 's1', times: 64 });
    const longer: Plan = { ...long, statements: long.statements.map(s => ({ ...s, times: 390 })) };
    expect(changeMetre(IDEA, longer, 2, metre(2, 4))).toMatchObject({
      ok: false,
      problem: { kind: 'out-of-range' },
    });
  });
});
