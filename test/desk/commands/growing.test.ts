import { describe, expect, it } from 'vitest';
import { fraction, show } from '../../../core/foundation/fraction.ts';
import { planOf } from '../../../core/piece/piece.ts';
import type { Statement } from '../../../core/plan/statement.ts';
import {
  setMarks,
  addEmptyPart,
  changeByHand,
  copyStatement,
  moveStatement,
  moveToPart,
  setArticulation,
  setDynamic,
  takeAway,
  tieAgain,
  walkStatements,
} from '../../../renderer/desk/commands/statements.ts';
import { isPart, targetChoices } from '../../../renderer/desk/commands/targets.ts';
import { selectStatement } from '../../../renderer/desk/commands/settings.ts';
import { step, undoStep } from '../../../renderer/desk/commands/step.ts';
import {
  changePlan,
  growNow,
  keepTrial,
  leaveTrial,
  tryAnyway,
  tryStep,
} from '../../../renderer/desk/commands/trial.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import { after, EMPTY, lastStep, pieceOf, pieceOn, stepsOf, takeOf, withPiece } from '../pieces.ts';

/** One bar: C D E G crotchets. */
const BAR = takeOf('bar', [0, 1, 2, 3], [72, 74, 76, 79], 1);
const fresh = (): DeskState => withPiece(pieceOf(BAR));
const plan = (desk: DeskState) => planOf(pieceOn(desk));
const statement = (desk: DeskState, id: string): Statement => {
  const found = plan(desk).statements.find(s => s.id === id);
  if (found === undefined) throw new Error(`no statement ${id}`);
  return found;
};
const repeat = (times: number) => ({ kind: 'repeat', statement: 's1', times }) as const;
/** s1 twice in the xylophone, a canon s3 in a marimba p2. */
const canon = (): DeskState =>
  after(after(fresh(), growNow, 'twice', repeat(2)), growNow, 'canon', {
    kind: 'canon',
    statement: 's1',
    to: { newPart: 'marimba' },
    beats: 2,
    octaves: 0,
    also: [],
  });
const OCCUPIED = {
  kind: 'state',
  statement: 's1',
  treatments: [],
  to: { part: 'p1' },
  onset: fraction(1),
} as const;

describe('marks of a statement', () => {
  it('are set one by one, and taken away again without a trace', () => {
    const plain = statement(fresh(), 's1');
    let desk = fresh();
    for (const marks of [
      { fermata: true },
      { ritardando: true },
      { slurred: true },
      { words: ' dolce ' },
    ] as const)
      desk = after(desk, setMarks, 's1', 'mark', marks);
    const marked = { ...plain, fermata: true, ritardando: true, slurred: true, words: 'dolce' };
    expect(statement(desk, 's1')).toEqual(marked);
    for (const marks of [
      { fermata: undefined },
      { ritardando: undefined },
      { slurred: undefined },
      { words: '  ' },
    ])
      desk = after(desk, setMarks, 's1', 'no mark', marks);
    expect(statement(desk, 's1')).toStrictEqual(plain);
  });
});

describe('trying', () => {
  it('shows a plan and keeps nothing until it is kept, as one step', () => {
    const tried = after(fresh(), tryStep, 'three times', repeat(3));
    expect([tried.live.trial?.name, tried.live.trial?.statement, stepsOf(tried)]).toEqual([
      'three times',
      's1',
      0,
    ]);
    expect(plan(tried)).toEqual(plan(fresh()));
    const kept = after(tried, keepTrial);
    expect([statement(kept, 's1').times, lastStep(kept), kept.live.trial]).toEqual([
      3,
      'three times',
      undefined,
    ]);
    expect([kept.session.selectedStatement, kept.session.selectedPlanNote]).toEqual(['s1', undefined]);
    expect(after(fresh(), keepTrial)).toEqual(fresh());
  });

  it('left, everything is as it was', () => {
    const desk = fresh();
    expect(after(desk, leaveTrial)).toBe(desk);
    const left = after(after(desk, tryStep, 'three times', repeat(3)), leaveTrial);
    expect([left.live.trial, left.live.conflict, pieceOn(left)]).toEqual([
      undefined,
      undefined,
      pieceOn(desk),
    ]);
  });

  it('where the part plays already, says so and remembers the step for a choice', () => {
    const twice = after(fresh(), growNow, 'twice', repeat(2));
    const conflict = after(twice, tryStep, 'again', OCCUPIED);
    expect([conflict.live.problem?.kind, conflict.live.trial]).toEqual(['conflict', undefined]);
    expect(conflict.live.conflict).toEqual({ name: 'again', step: OCCUPIED });
    const waited = after(conflict, tryAnyway, 'postpone');
    expect([waited.live.problem, waited.live.conflict]).toEqual([undefined, undefined]);
    const added = waited.live.trial?.plan.statements.find(s => s.id === waited.live.trial?.statement);
    expect(show(added?.onset ?? fraction(0))).toBe('2');
    expect(after(conflict, tryAnyway, 'cut').live.trial?.name).toBe('again');
    expect(after(twice, tryAnyway, 'cut')).toBe(twice);
    expect(after(conflict, leaveTrial).live.conflict).toBeUndefined();
  });

  it('what no notation can say is refused in a sentence, and nothing changes', () => {
    const refused = after(fresh(), tryStep, 'smaller', {
      kind: 'change',
      statement: 's1',
      treatments: Array.from({ length: 5 }, () => ({ kind: 'diminish' as const, factor: fraction(3) })),
    });
    expect([refused.live.trial, pieceOn(refused)]).toEqual([undefined, pieceOn(fresh())]);
    expect(refused.live.problem).toMatchObject({
      kind: 'out-of-range',
      what: 'Some notes would become too short, or too uneven, to be written.',
    });
  });

  it('a speed nobody can read is refused with the nearest one that can be', () => {
    const refused = after(fresh(), tryStep, 'faster', {
      kind: 'change',
      statement: 's1',
      treatments: [{ kind: 'diminish' as const, factor: fraction(9) }],
    });
    expect(refused.live.trial).toBeUndefined();
    expect(refused.live.problem?.next).toBe('Choose “four times” faster: that can be read.');
  });

  it('needs a piece', () => {
    expect(tryStep(EMPTY, 'twice', repeat(2))).toMatchObject({ problem: { kind: 'bad-request' } });
    expect(after(EMPTY, changePlan, 'x', old => old)).toBe(EMPTY);
    expect(after(fresh(), changePlan, 'nothing', old => old).document).toEqual(fresh().document);
  });

  it('what cannot be grown at once is said, and nothing is kept', () => {
    const twice = after(fresh(), growNow, 'twice', repeat(2));
    const refused = after(twice, growNow, 'again', OCCUPIED);
    expect([refused.live.problem?.kind, stepsOf(refused)]).toEqual(['conflict', stepsOf(twice)]);
  });

  it('a change of the plan leaves what was being tried', () => {
    const tried = after(fresh(), tryStep, 'three times', repeat(3));
    const changed = after(tried, changePlan, 'tempo', old => ({ ...old, tempo: 60 }));
    expect([changed.live.trial, plan(changed).tempo, lastStep(changed)]).toEqual([undefined, 60, 'tempo']);
  });
});

describe('statements', () => {
  it('moves by beats, and to the part above or below', () => {
    const later = after(canon(), moveStatement, 's3', 1);
    expect([show(statement(later, 's3').onset), lastStep(later)?.endsWith('later')]).toEqual(['3/4', true]);
    const earlier = after(later, moveStatement, 's3', -2);
    expect([show(statement(earlier, 's3').onset), lastStep(earlier)?.endsWith('earlier')]).toEqual([
      '1/4',
      true,
    ]);
    const empty = after(canon(), addEmptyPart, 'vibraphone');
    const moved = after(empty, moveToPart, 's3', 1);
    expect(statement(moved, 's3').part).toBe('p4');
    expect(lastStep(moved)).toMatch(/^give .* to the vibraphone$/);
    expect(after(canon(), moveToPart, 's3', 1).document).toEqual(canon().document);
    expect(after(canon(), moveToPart, 's9', 1).document).toEqual(canon().document);
    expect(after(canon(), moveStatement, 's9', 1).document).toEqual(canon().document);
  });

  it('a copy is stated as often, straight after, in the same part', () => {
    const copied = after(canon(), copyStatement, 's1');
    const [copy] = plan(copied).statements.filter(s => s.id !== 's1' && s.id !== 's3');
    expect([copy?.part, copy?.times, show(copy?.onset ?? fraction(0))]).toEqual(['p1', 2, '2']);
    expect(lastStep(copied)).toMatch(/^copy /);
    expect(after(EMPTY, copyStatement, 's1')).toBe(EMPTY);
  });

  it('taken away, with a part that is left empty; the last one stays', () => {
    const one = after(canon(), takeAway, 's3');
    expect([plan(one).statements.map(s => s.id), plan(one).parts.map(p => p.id)]).toEqual([['s1'], ['p1']]);
    expect([one.session.selectedStatement, lastStep(one)?.startsWith('take away ')]).toEqual([
      undefined,
      true,
    ]);
    expect(after(one, takeAway, 's1')).toBe(one);
    expect(after(one, takeAway, 's9')).toBe(one);
    const both = after(canon(), copyStatement, 's1');
    expect(plan(after(both, takeAway, 's1')).parts.map(p => p.id)).toEqual(['p1', 'p2']);
  });

  it('loudness and touch are set and taken back', () => {
    const loud = after(canon(), setDynamic, 's3', 'f');
    expect([statement(loud, 's3').dynamic, statement(loud, 's1').dynamic]).toEqual(['f', undefined]);
    expect(lastStep(loud)).toBe('loudness f');
    const plain = after(loud, setDynamic, 's3', undefined);
    expect(['dynamic' in statement(plain, 's3'), lastStep(plain)]).toEqual([false, 'loudness as before']);
    const short = after(canon(), setArticulation, 's1', 'staccato');
    expect([statement(short, 's1').articulation, lastStep(short)]).toEqual(['staccato', 'played staccato']);
    const again = after(short, setArticulation, 's1', undefined);
    expect(['articulation' in statement(again, 's1'), lastStep(again)]).toEqual([false, 'played plainly']);
  });

  it('a note changed by hand unties its statement, until it is tied again', () => {
    const changed = after(canon(), changeByHand, 's3', 'C5 higher', { kind: 'steps', note: 0, steps: 1 });
    expect([statement(changed, 's3').detached?.length, statement(changed, 's1').detached]).toEqual([
      4,
      undefined,
    ]);
    expect(lastStep(changed)).toBe('C5 higher');
    const tied = after(changed, tieAgain, 's3');
    expect([statement(tied, 's3').detached, lastStep(tied)]).toEqual([undefined, 'tie to the motif again']);
    expect(after(EMPTY, changeByHand, 's1', 'x', { kind: 'delete', note: 0 })).toBe(EMPTY);
    expect(plan(after(changed, undoStep))).toEqual(plan(canon()));
  });

  it('are walked through part by part, and the ends stay', () => {
    const walked = (desk: DeskState, by: 1 | -1): string | undefined =>
      after(desk, walkStatements, by).session.selectedStatement;
    const desk = after(after(canon(), copyStatement, 's1'), selectStatement, undefined);
    expect(walked(desk, 1)).toBe('s1');
    const at = (id: string): DeskState => after(desk, selectStatement, id, { statement: id, index: 1 });
    expect([walked(at('s1'), 1), walked(at('s4'), 1), walked(at('s3'), 1)]).toEqual(['s4', 's3', 's3']);
    expect([walked(at('s1'), -1), walked(at('s3'), -1)]).toEqual(['s1', 's4']);
    expect(after(at('s1'), walkStatements, 1).session.selectedPlanNote).toBeUndefined();
    expect(after(EMPTY, walkStatements, 1)).toBe(EMPTY);
  });

  it('one part more, up to as many as a page holds', () => {
    let desk = fresh();
    for (const instrument of ['marimba', 'glockenspiel', 'vibraphone'] as const)
      desk = after(desk, addEmptyPart, instrument);
    expect(plan(desk).parts.map(p => p.instrument)).toEqual([
      'xylophone',
      'marimba',
      'glockenspiel',
      'vibraphone',
    ]);
    expect(addEmptyPart(desk, 'marimba')).toMatchObject({ ok: false });
    expect(after(EMPTY, addEmptyPart, 'marimba')).toBe(EMPTY);
  });
});

describe('where the next statement may go', () => {
  const texts = (desk: DeskState): string[] => targetChoices(plan(desk)).map(c => c.text);

  it('instruments that are not there yet come first, then the parts, then one more of each', () => {
    expect(texts(canon())).toEqual([
      'a new glockenspiel',
      'a new vibraphone',
      'the xylophone',
      'the marimba',
      'another xylophone',
      'another marimba',
    ]);
    const [first] = targetChoices(plan(canon()));
    expect([first?.target, first?.instrument]).toEqual([{ newPart: 'glockenspiel' }, 'glockenspiel']);
  });

  it('a full page has its parts alone, and each choice its own value', () => {
    const full = after(after(canon(), addEmptyPart, 'marimba'), addEmptyPart, 'vibraphone');
    const choices = targetChoices(plan(full));
    expect(choices.map(c => c.target)).toEqual(['p1', 'p2', 'p4', 'p5'].map(part => ({ part })));
    expect(new Set(choices.map(c => c.value)).size).toBe(4);
    expect(choices.map(c => isPart(c, 'p2'))).toEqual([false, true, false, false]);
    expect(
      targetChoices(plan(fresh()))
        .filter(c => 'newPart' in c.target)
        .some(c => isPart(c, 'p1')),
    ).toBe(false);
  });
});

it('a step under a plan keeps its name', () => {
  expect(lastStep(after(canon(), step, 'title', old => ({ ...old, title: 'T' })))).toBe('title');
});
