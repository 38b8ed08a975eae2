import { describe, expect, it } from 'vitest';
import { type Fraction, fraction, show, ZERO } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { partName, partShort, renamePart, shiftPart } from '../../core/plan/partList.ts';
import { addPart, addStatement, changeStatement, removeStatement } from '../../core/plan/change.ts';
import { barAndBeat, beatsAway, beatsLater, positionOf } from '../../core/plan/beats.ts';
import { findStatement, firstPlan, type Plan, statementsOf } from '../../core/plan/plan.ts';
import { playedEnd, standingIn, timesToFill } from '../../core/plan/standing.ts';
import { notesOfStatement, type Statement, statementEnd, treatedFurther } from '../../core/plan/statement.ts';
import { IDEA } from './motifs.ts';

const METRES = [metre(4, 4), metre(3, 4), metre(2, 2), metre(6, 8), metre(5, 8), metre(7, 8), metre(12, 8)];
const parts: Plan['parts'] = [
  { id: 'p1', instrument: 'xylophone' },
  { id: 'p2', instrument: 'marimba' },
  { id: 'p3', instrument: 'glockenspiel' },
];
const at = (id: string, part: string, onset: Fraction, more: Partial<Statement> = {}): Statement => ({
  id,
  part,
  onset,
  chain: [],
  times: 1,
  ...more,
});
const planOf = (...statements: Statement[]): Plan => ({
  ...firstPlan('xylophone', 90),
  parts,
  statements,
  nextId: 20,
});

describe('places by bar and beat', () => {
  it('law: the place of a bar and beat is told as that bar and beat, in any metre', () => {
    for (const m of METRES) {
      for (let bar = 1; bar <= 5; bar++) {
        for (let beat = 1; beat <= (m.groups?.length ?? (m.lower === 8 ? m.upper / 3 : m.upper)); beat++)
          expect(barAndBeat(m, positionOf(m, bar, beat))).toEqual({ bar, beat });
      }
    }
  });

  it('a place within a beat is told as that beat', () => {
    expect(barAndBeat(metre(4, 4), fraction(15, 16))).toEqual({ bar: 1, beat: 4 });
    expect(barAndBeat(metre(7, 8), fraction(7, 8 * 2))).toEqual({ bar: 1, beat: 2 });
    expect(barAndBeat(metre(4, 4), fraction(-1, 8))).toEqual({ bar: 0, beat: 4 });
  });

  it('law: so many beats later and as many back is where it was; a bar of beats is a bar', () => {
    for (const m of METRES) {
      const inBar = m.groups?.length ?? (m.lower === 8 ? m.upper / 3 : m.upper);
      for (let beats = 0; beats <= 2 * inBar; beats++) {
        const start = positionOf(m, 3, 1 + (beats % inBar));
        const there = beatsLater(m, start, beats);
        expect(beatsAway(m, start, beats)).toEqual(there);
        expect(beatsAway(m, there, -beats)).toEqual(start);
      }
      expect(beatsLater(m, ZERO, inBar)).toEqual(positionOf(m, 2, 1));
      expect(beatsAway(m, positionOf(m, 2, 1), -inBar)).toEqual(ZERO);
    }
  });

  it('unequal beats are stepped one by one', () => {
    const places = [0, 1, 2, 3, 4].map(beats => show(beatsLater(metre(7, 8), ZERO, beats)));
    expect(places).toEqual(['0', '1/4', '1/2', '7/8', '9/8']);
    expect(show(beatsAway(metre(7, 8), ZERO, -1))).toBe('-3/8');
  });
});

describe('room in a part', () => {
  const plan = planOf(
    at('s1', 'p1', fraction(1)),
    at('s2', 'p1', fraction(4), { times: 2 }),
    at('s3', 'p2', ZERO),
  );
  const other = (part: string, onset: Fraction, times = 1, except: string[] = []): string | undefined =>
    standingIn(IDEA, plan, at('new', part, onset, { times }), except)?.id;

  it('statements may touch and not overlap, each part by itself', () => {
    expect(other('p1', ZERO)).toBeUndefined();
    expect(other('p1', fraction(1, 8))).toBe('s1');
    expect(other('p1', fraction(15, 8))).toBe('s1');
    expect(other('p1', fraction(2))).toBeUndefined();
    expect(other('p1', fraction(2), 3)).toBe('s2');
    expect(other('p1', fraction(5))).toBe('s2');
    expect(other('p1', fraction(6))).toBeUndefined();
    expect(other('p3', fraction(1))).toBeUndefined();
    expect(other('p1', fraction(1), 1, ['s1'])).toBeUndefined();
  });

  it('a statement is never in its own way', () => {
    const [first] = plan.statements;
    expect(first && standingIn(IDEA, plan, { ...first, onset: fraction(3, 2) })).toBeUndefined();
  });

  it('says who plays there, from where, and from where it is free', () => {
    const refused = addStatement(IDEA, plan, at('', 'p1', fraction(9, 2)));
    expect(refused).toMatchObject({
      ok: false,
      problem: {
        kind: 'conflict',
        what: 'The xylophone already plays from bar 5, beat 1.',
        kept: 'Nothing was changed.',
        next: 'It is free from bar 7, beat 1; or choose another part.',
      },
    });
    expect(changeStatement(IDEA, plan, 's1', { onset: fraction(9, 2) })).toEqual(refused);
    expect(changeStatement(IDEA, plan, 's1', { part: 'p2', onset: fraction(1, 2) })).toMatchObject({
      problem: { what: 'The marimba already plays from bar 1, beat 1.' },
    });
  });

  it('counts what follows straight on in the way, and leaves gaps free', () => {
    const bars = [4, 6, 9].map(bar => at(`b${String(bar)}`, 'p1', fraction(bar), { times: 2 }));
    const told = (of: readonly Statement[]): unknown => {
      const refused = addStatement(IDEA, { ...plan, statements: of }, at('', 'p1', fraction(9, 2)));
      return refused.ok ? undefined : refused.problem.next;
    };
    // Two bars each: bars 5 to 8 without a gap, then bars 10 and 11.
    expect(told(bars)).toBe('It is free from bar 9, beat 1; or choose another part.');
    expect(told([...bars].reverse())).toBe('It is free from bar 9, beat 1; or choose another part.');
    expect(told(bars.map(s => ({ ...s, part: s.id === 'b6' ? 'p2' : 'p1' })))).toBe(
      'It is free from bar 7, beat 1; or choose another part.',
    );
  });

  it('adds with a new id and leaves the others alone', () => {
    const added = addStatement(IDEA, plan, at('', 'p1', fraction(2), { leader: 's3' }));
    if (!added.ok) throw new Error(added.problem.what);
    expect(added.value.id).toBe('s20');
    expect(added.value.plan.nextId).toBe(21);
    expect(added.value.plan.statements.slice(0, 3)).toEqual(plan.statements);
    expect(added.value.plan.statements[3]).toEqual(at('s20', 'p1', fraction(2), { leader: 's3' }));
  });

  it('changes one and leaves the others alone', () => {
    const changed = changeStatement(IDEA, plan, 's2', { times: 3 });
    expect(changed.ok && changed.value.statements.map(s => [s.id, s.times])).toEqual([
      ['s1', 1],
      ['s2', 3],
      ['s3', 1],
    ]);
    expect(changeStatement(IDEA, plan, 's9', { times: 3 })).toMatchObject({
      ok: false,
      problem: { kind: 'not-found', what: 'That statement is no longer in the piece.' },
    });
  });

  it('is asked for in order of entry, whatever the order they were made in', () => {
    const mixed = planOf(
      at('a', 'p1', fraction(5, 2)),
      at('b', 'p1', fraction(1, 3)),
      at('c', 'p1', fraction(1)),
      at('d', 'p2', ZERO),
    );
    expect(statementsOf(mixed, 'p1').map(s => s.id)).toEqual(['b', 'c', 'a']);
    expect(playedEnd(IDEA, mixed)).toEqual(fraction(7, 2));
    expect(playedEnd(IDEA, planOf())).toEqual(ZERO);
  });

  it('what followed a statement taken away stands on its own', () => {
    const tied = planOf(
      at('s1', 'p1', ZERO),
      at('s2', 'p2', fraction(1, 4), { leader: 's1' }),
      at('s3', 'p3', ZERO, { leader: 's2' }),
    );
    const left = removeStatement(tied, 's1');
    expect(left.statements).toEqual([at('s2', 'p2', fraction(1, 4)), at('s3', 'p3', ZERO, { leader: 's2' })]);
    expect(findStatement(left, 's1')).toBeUndefined();
    expect(findStatement(left, 's3')?.leader).toBe('s2');
  });

  it('law: filled up to an end, one more time would not fit', () => {
    const upbeat: Motif = { ...IDEA, upbeat: fraction(1, 4) };
    for (const motif of [IDEA, upbeat]) {
      for (let quarters = 1; quarters < 40; quarters += 3) {
        const end = fraction(quarters, 4);
        const times = timesToFill(motif, [], fraction(1, 2), end);
        const fits = (count: number): boolean => {
          const e = statementEnd(motif, at('', 'p1', fraction(1, 2), { times: count }));
          return e.n * end.d <= end.n * e.d;
        };
        expect(times).toBeGreaterThanOrEqual(1);
        if (times > 1) expect(fits(times)).toBe(true);
        expect(fits(times + 1)).toBe(false);
      }
    }
  });
});

describe('parts', () => {
  it('four at the most', () => {
    const three = planOf();
    const four = addPart(three, 'vibraphone');
    if (!four.ok) throw new Error(four.problem.what);
    expect(four.value.part).toBe('p20');
    expect(four.value.plan.parts.at(-1)).toEqual({ id: 'p20', instrument: 'vibraphone' });
    expect(four.value.plan.nextId).toBe(21);
    expect(addPart(four.value.plan, 'vibraphone')).toMatchObject({
      ok: false,
      problem: { kind: 'conflict', what: 'A piece has four parts at the most.' },
    });
  });

  it('any of them moves up or down by one place and no further', () => {
    const order = (plan: Plan): string => plan.parts.map(p => p.id).join(' ');
    expect(order(shiftPart(planOf(), 'p1', 1))).toBe('p2 p1 p3');
    expect(order(shiftPart(planOf(), 'p3', -1))).toBe('p1 p3 p2');
    expect(order(shiftPart(planOf(), 'p2', 1))).toBe('p1 p3 p2');
    expect(order(shiftPart(planOf(), 'p3', 1))).toBe('p1 p2 p3');
    expect(order(shiftPart(planOf(), 'p9', 1))).toBe('p1 p2 p3');
  });

  it('a short name fits the margin', () => {
    const plan = planOf();
    const short = (name: string): string => {
      const named = renamePart(plan, 'p1', name);
      return named.parts[0] === undefined ? '' : partShort(named, named.parts[0]);
    };
    expect(short('')).toBe('Xyl.');
    expect(short('Wind')).toBe('Wind');
    expect(short('Breeze')).toBe('Breeze');
    expect(short('Thunder')).toBe('Thund.');
    expect(short('   ')).toBe('Xyl.');
    expect(
      partName(
        renamePart(plan, 'p1', 'x'.repeat(40)),
        renamePart(plan, 'p1', 'x'.repeat(40)).parts[0] ?? { id: '', instrument: 'marimba' },
      ),
    ).toHaveLength(24);
    const two: Plan = { ...plan, parts: [...parts, { id: 'p4', instrument: 'marimba' }] };
    expect(two.parts.map(p => partShort(two, p))).toEqual(['Xyl.', 'Mar. 1', 'Glock.', 'Mar. 2']);
  });
});

describe('what is written on a statement', () => {
  const noted = (more: Partial<Statement>, motif: Motif = IDEA): ReturnType<typeof notesOfStatement> =>
    notesOfStatement(motif, at('s1', 'p1', fraction(1), more));

  it('a dynamic stands at its first note in time only, an articulation on every note', () => {
    const backwards: Motif = { ...IDEA, notes: [...IDEA.notes].reverse() };
    const loud = noted({ dynamic: 'f', times: 2 }, backwards);
    expect(loud.filter(n => n.dynamic === 'f').map(n => show(n.onset))).toEqual(['1']);
    expect(noted({ articulation: 'accent', times: 2 }).every(n => n.articulation === 'accent')).toBe(true);
    expect(noted({}).every(n => n.dynamic === undefined && n.articulation === undefined)).toBe(true);
    expect(noted({ articulation: 'staccato' }).every(n => n.dynamic === undefined)).toBe(true);
  });

  it('each time through follows on the last, and each note says which it is', () => {
    const notes = noted({ times: 3 });
    expect(notes.map(n => n.ref).filter(ref => ref.endsWith(':0'))).toEqual(['s1:0:0', 's1:1:0', 's1:2:0']);
    expect(notes.filter(n => n.ref.endsWith(':1')).map(n => show(n.onset))).toEqual(['9/8', '17/8', '25/8']);
  });

  it('states the motif it names; one that is gone is the first', () => {
    const high: Motif = {
      ...IDEA,
      others: { B: { ...IDEA, notes: IDEA.notes.map(n => ({ ...n, degree: n.degree + 7 })) } },
    };
    const octaves = (motif?: string): (number | undefined)[] =>
      noted(motif === undefined ? {} : { motif }, high).map(n => n.pitch.octave);
    expect(octaves('B')).toEqual(octaves().map(o => (o ?? 0) + 1));
    expect(octaves('C')).toEqual(octaves());
  });

  it('notes changed by hand are treated further, and stay changed', () => {
    const detached = IDEA.notes.slice(0, 2);
    const treated = treatedFurther(IDEA, at('', 'p1', ZERO, { detached }), [
      { kind: 'transpose', by: 'scale', steps: 1 },
    ]);
    expect(treated.detached?.map(n => n.degree)).toEqual(detached.map(n => n.degree + 1));
    expect(treated.chain).toHaveLength(1);
    expect(treatedFurther(IDEA, at('', 'p1', ZERO), [])).toEqual({ chain: [] });
  });
});
