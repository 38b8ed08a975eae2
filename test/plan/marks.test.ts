import { describe, expect, it } from 'vitest';
import { fraction, show } from '../../core/foundation/fraction.ts';
import { grow } from '../../core/growing/grow.ts';
import { splitAt } from '../../core/growing/split.ts';
import type { StatementMarks } from '../../core/plan/marks.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { notesOfStatement } from '../../core/plan/statement.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { withLongRests } from '../../core/score/longRests.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import { written } from '../score/written.ts';
import { IDEA } from './motifs.ts';

const marked = (marks: StatementMarks, times = 1): Plan => {
  const plan = firstPlan('xylophone', 90);
  return { ...plan, statements: plan.statements.map(s => ({ ...s, ...marks, times })) };
};
const shown = (plan: Plan): string =>
  scoreOfPlan(IDEA, plan, '', '')
    .parts.map(part => written(part.bars))
    .join(' / ');
const ALL: StatementMarks = {
  dynamic: 'p',
  hairpin: 'crescendo',
  slurred: true,
  fermata: true,
  ritardando: true,
  words: 'dreamily',
};

// The idea is a quaver, a crotchet, a crotchet tied over the half bar, a quaver and a crotchet.
describe('marks of a statement', () => {
  it('stand at its first and last notes; a slur over each time through', () => {
    expect(shown(marked(ALL, 2))).toBe('<p>e(< q e~ [e e] q) | e( q e~ [e e] q).^');
    const notes = notesOfStatement(IDEA, marked(ALL, 2).statements[0] ?? fail());
    expect(notes.filter(n => n.words !== undefined).map(n => show(n.onset))).toEqual(['0']);
  });

  it('end at the last symbol of a tied note, and begin at its first', () => {
    const held = { ...IDEA, notes: IDEA.notes.slice(0, 3), length: fraction(1) };
    const plan = marked({ slurred: true, fermata: true, hairpin: 'diminuendo' });
    expect(written(scoreOfPlan(held, plan, '', '').parts[0]?.bars ?? [])).toBe('e(> q e~ e).^ re rq');
  });

  it('a slur and a hairpin want two notes', () => {
    const one = { ...IDEA, notes: IDEA.notes.slice(0, 1) };
    const plan = marked({ slurred: true, hairpin: 'crescendo', fermata: true });
    expect(written(scoreOfPlan(one, plan, '', '').parts[0]?.bars ?? [])).toMatch(/^e\^ /);
  });

  it('a ritardando goes through the last bar, or all of what is shorter', () => {
    const slowings = (plan: Plan): string =>
      (scoreOfPlan(IDEA, plan, '', '').slowings ?? []).map(s => `${show(s.from)} to ${show(s.to)}`).join();
    expect(slowings(marked({ ritardando: true }, 3))).toBe('2 to 3');
    const half = marked({ ritardando: true });
    const fragment = { kind: 'fragment', from: fraction(0), to: fraction(1, 2) } as const;
    expect(slowings({ ...half, statements: half.statements.map(s => ({ ...s, chain: [fragment] })) })).toBe(
      '0 to 1/2',
    );
  });

  it('stay where they were set: what answers the statement has its touch and slur alone', () => {
    const step = { kind: 'canon', statement: 's1', to: { newPart: 'marimba' }, beats: 1 } as const;
    const grown = grow(IDEA, marked({ ...ALL, articulation: 'accent' }), step);
    expect(grown.ok && grown.value.plan.statements[1]).toMatchObject({
      slurred: true,
      articulation: 'accent',
    });
    const { hairpin, fermata, ritardando, words, dynamic } =
      (grown.ok && grown.value.plan.statements[1]) || ALL;
    expect([hairpin, fermata, ritardando, words, dynamic]).toEqual(Array(5).fill(undefined));
  });

  it('go with the end they belong to where a statement is divided', () => {
    const parts = splitAt(IDEA, marked(ALL, 2), fraction(1), ['p1']).statements;
    expect(parts.map(s => [s.words, s.hairpin, s.fermata, s.ritardando])).toEqual([
      ['dreamily', 'crescendo', undefined, undefined],
      [undefined, undefined, true, true],
    ]);
  });

  it('cut in the middle of a time: the end alone is held', () => {
    const pieces = splitAt(IDEA, marked(ALL, 2), fraction(1, 2), ['p1']).statements;
    expect(pieces.map(s => [s.words, s.fermata])).toEqual([
      ['dreamily', undefined],
      [undefined, undefined],
      [undefined, true],
    ]);
  });

  it('are found by time, in whatever order notes changed by hand lie', () => {
    const plan = marked({ fermata: true, words: 'dreamily' });
    const statements = plan.statements.map(s => ({ ...s, detached: [...IDEA.notes].reverse() }));
    const notes = notesOfStatement(IDEA, statements[0] ?? fail());
    expect(notes.filter(n => n.fermata === true).map(n => show(n.onset))).toEqual(['3/4']);
    expect(notes.filter(n => n.words !== undefined).map(n => show(n.onset))).toEqual(['0']);
  });

  it('a long rest of a part ends where the piece slows down', () => {
    const plan = marked({ ritardando: true }, 3);
    const score = scoreOfPlan(
      IDEA,
      { ...plan, parts: [...plan.parts, { id: 'p2', instrument: 'marimba' }] },
      '',
      '',
    );
    const silent = { ...score, parts: score.parts.slice(1) };
    expect(withLongRests(silent).parts[0]?.bars.map(bar => bar.restBars ?? 1)).toEqual([2, 1]);
  });

  it('written once between repeat barlines only where every time has the same marks', () => {
    const bars = (plan: Plan): number => withRepeatBars(scoreOfPlan(IDEA, plan, '', '')).barCount;
    expect(bars(marked({ slurred: true }, 2))).toBe(1);
    expect(bars(marked({ fermata: true }, 2))).toBe(2);
    expect(bars(marked({ ritardando: true }, 2))).toBe(2);
    expect(bars(marked({ words: 'dreamily' }, 2))).toBe(2);
    expect(bars(marked({ hairpin: 'crescendo' }, 2))).toBe(2);
  });
});

const fail = (): never => {
  throw new Error('no statement');
};
