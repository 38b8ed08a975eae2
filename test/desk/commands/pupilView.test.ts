import { describe, expect, it } from 'vitest';
import { lastStepGrew } from '../../../renderer/desk/commands/lastGrowth.ts';
import { complain } from '../../../renderer/desk/commands/messages.ts';
import { nameIt, openEntry } from '../../../renderer/desk/commands/open.ts';
import { goTo, selectNotes, showPupilView, showWindow } from '../../../renderer/desk/commands/settings.ts';
import { undoStep } from '../../../renderer/desk/commands/step.ts';
import { growNow, tryStep } from '../../../renderer/desk/commands/trial.ts';
import { FIRST_DESK } from '../../../renderer/desk/state.ts';
import { after, pieceOf, SCALE, withPiece } from '../pieces.ts';

const AGAIN = { kind: 'repeat', statement: 's1', times: 2 } as const;

describe('the pupil view', () => {
  it('leaves what is tried, what is chosen and what is open', () => {
    let desk = after(after(withPiece(), selectNotes, [1]), tryStep, 'again', AGAIN);
    desk = after(after(desk, showWindow, 'keys'), showPupilView, true);
    expect(desk.session.isPupilView).toBe(true);
    expect([desk.live.trial, desk.live.window, desk.session.selectedNotes]).toEqual([
      undefined,
      undefined,
      [],
    ]);
    expect(after(desk, showPupilView, false).session.isPupilView).toBe(false);
  });

  it('takes a step back only where it made this piece grow', () => {
    expect(lastStepGrew(FIRST_DESK)).toBe(false);
    const written = withPiece();
    expect(lastStepGrew(written)).toBe(false);
    const grown = after(written, growNow, 'again', AGAIN);
    expect(lastStepGrew(grown)).toBe(true);
    expect(lastStepGrew(after(grown, undoStep))).toBe(false);
    expect(lastStepGrew(after(grown, nameIt, 'Stairs'))).toBe(false);
    // Opening another piece over a grown one: going back does not put the other one on the desk.
    const other = { ...pieceOf(SCALE), id: 'other' };
    expect(lastStepGrew(after(grown, openEntry, { id: 'other', revision: 'r1', piece: other }))).toBe(false);
  });
});

describe('a problem', () => {
  const problem = { kind: 'unexpected', what: 'It broke.', kept: '', next: '' } as const;
  it('goes with its place, and stays while one stays', () => {
    const told = after(FIRST_DESK, complain, problem);
    expect(after(told, goTo, told.session.view).live.problem).toEqual(problem);
    expect(after(told, goTo, 'keep').live.problem).toBeUndefined();
  });
});
