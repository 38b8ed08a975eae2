import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { complain, dismissProblem, tell } from '../../../renderer/desk/commands/messages.ts';
import { edit, redoStep, step, undoStep } from '../../../renderer/desk/commands/step.ts';
import { growNow, tryStep } from '../../../renderer/desk/commands/trial.ts';
import { withLive } from '../../../renderer/desk/state.ts';
import { after, EMPTY, lastStep, pieceOn, stepsOf, withPiece } from '../pieces.ts';

const PROBLEM = { kind: 'unexpected', what: 'It broke.', kept: 'All of it.', next: 'Go on.' } as const;
const retitled = (title: string) => (old: ReturnType<typeof pieceOn>) => ({ ...old, title });

describe('steps of the piece', () => {
  it('without a piece there is nothing to do', () => {
    expect(after(EMPTY, step, 'call it', retitled('A'))).toBe(EMPTY);
    expect(after(EMPTY, undoStep)).toBe(EMPTY);
    expect(after(EMPTY, redoStep)).toBe(EMPTY);
  });

  it('a change that changes nothing is no step', () => {
    const desk = withPiece();
    expect(after(desk, step, 'nothing', old => old)).toBe(desk);
  });

  it('a step has its name, says so, and takes the last problem away', () => {
    const desk = after(withPiece(), complain, PROBLEM);
    const named = after(desk, step, 'call it Ferry', retitled('Ferry'));
    expect([lastStep(named), named.live.notice, named.live.problem, pieceOn(named).title]).toEqual([
      'call it Ferry',
      'Call it Ferry.',
      undefined,
      'Ferry',
    ]);
    expect(stepsOf(named)).toBe(1);
  });

  it('whatever was done, as many undos give the piece back, and redos the end', () => {
    const names = fc.array(fc.constantFrom('a', 'b', 'c'), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(names, titles => {
        const first = withPiece();
        let desk = first;
        titles.forEach((title, i) => {
          desk = after(desk, step, `call it ${title}`, retitled(`${title} ${String(i)}`));
        });
        const last = pieceOn(desk);
        for (const _ of titles) desk = after(desk, undoStep);
        expect(pieceOn(desk)).toBe(pieceOn(first));
        expect(after(desk, undoStep)).toBe(desk);
        for (const _ of titles) desk = after(desk, redoStep);
        expect(pieceOn(desk)).toBe(last);
        expect(after(desk, redoStep)).toBe(desk);
      }),
    );
  });

  it('undo leaves what was being tried, and what followed the last step', () => {
    const tried = after(withPiece(), tryStep, 'repeat', { kind: 'repeat', statement: 's1', times: 2 });
    const marked = withLive(after(tried, step, 'call it B', retitled('B')), {
      trial: tried.live.trial,
      followed: [1],
      rippled: ['s1'],
      lastPinned: { name: 'x', before: pieceOn(tried), after: pieceOn(tried), pins: [], like: [] },
    });
    const { trial, followed, rippled, lastPinned } = after(marked, undoStep).live;
    expect({ trial, followed, rippled, lastPinned }).toEqual({
      trial: undefined,
      followed: [],
      rippled: [],
      lastPinned: undefined,
    });
  });

  it('a correction goes behind those made before', () => {
    const once = after(withPiece(), edit, 'rest', { kind: 'rest', note: 1 });
    const twice = after(once, edit, 'delete', { kind: 'delete', note: 2 });
    expect(pieceOn(twice).edits).toEqual([
      { kind: 'rest', note: 1 },
      { kind: 'delete', note: 2 },
    ]);
  });

  it('statements that follow a correction of the motif are marked until the plan is changed', () => {
    const grown = after(withPiece(), growNow, 'repeat', { kind: 'repeat', statement: 's1', times: 2 });
    expect(grown.live.rippled).toEqual([]);
    const corrected = after(grown, edit, 'higher', { kind: 'pitch', note: 0, pitch: 74 });
    expect(corrected.live.rippled).toEqual(['s1']);
    const again = after(corrected, edit, 'higher', { kind: 'pitch', note: 0, pitch: 76 });
    expect(again.live.rippled).toEqual(['s1']);
    expect(after(again, step, 'call it C', retitled('C')).live.rippled).toEqual(['s1']);
    const more = after(again, growNow, 'repeat', { kind: 'repeat', statement: 's1', times: 3 });
    expect(more.live.rippled).toEqual([]);
  });

  it('says when statements had to give way', () => {
    const grown = after(withPiece(), growNow, 'copy', {
      kind: 'state',
      statement: 's1',
      treatments: [],
      to: { part: 'p1' },
      onset: { n: 2, d: 1 },
    });
    const longer = after(grown, edit, 'longer', {
      kind: 'add',
      note: -1,
      onset: { n: 2, d: 1 },
      duration: { n: 1, d: 1 },
      pitch: 72,
    });
    expect(longer.live.notice).toMatch(/^Longer\./);
    const bars = after(grown, step, 'more bars', old => ({ ...old, motifBars: { from: 1, to: 2 } }));
    expect(bars.live.notice.includes('now waits')).toBe(bars.live.notice !== 'More bars.');
  });
});

describe('messages', () => {
  it('a problem stays until it is read', () => {
    const said = after(EMPTY, complain, PROBLEM);
    expect(said.live.problem).toBe(PROBLEM);
    expect(after(said, dismissProblem).live.problem).toBeUndefined();
    expect(after(EMPTY, tell, 'Kept.').live.notice).toBe('Kept.');
  });
});
