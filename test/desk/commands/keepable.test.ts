import { describe, expect, it } from 'vitest';
import { fraction } from '../../../core/foundation/fraction.ts';
import { beyondReach } from '../../../core/library/withinReach.ts';
import { planOf, withPlan } from '../../../core/piece/piece.ts';
import { growNow, tryStep } from '../../../renderer/desk/commands/trial.ts';
import { MOST_OFFERED, nextTimes } from '../../../renderer/views/grow/cardChoice.ts';
import { after, pieceOf, pieceOn, takeOf, withPiece } from '../pieces.ts';

const fresh = () => withPiece(pieceOf(takeOf('bar', [0, 1, 2, 3], [72, 74, 76, 79], 1)));
const slower = (factor: number) =>
  ({
    kind: 'change',
    statement: 's1',
    treatments: [{ kind: 'augment', factor: fraction(factor) }],
  }) as const;

describe('a step after which the piece could not be kept', () => {
  it('is refused in a sentence before it is taken; what can be kept is not', () => {
    const tried = after(fresh(), tryStep, 'slower', slower(65));
    expect(tried.live.trial).toBeUndefined();
    expect(tried.live.problem?.what).toContain('than can be kept');
    expect(after(fresh(), tryStep, 'slower', slower(64)).live.trial).toBeDefined();
    const kept = after(fresh(), growNow, 'slower', slower(64));
    expect(beyondReach(pieceOn(kept))).toBeUndefined();
  });

  it('is not refused where the piece cannot be kept already, so that it can be mended', () => {
    const piece = pieceOn(fresh());
    const plan = planOf(piece);
    const far = plan.statements.map(s => ({ ...s, chain: slower(65).treatments }));
    const beyond = withPiece(withPlan(piece, { ...plan, statements: far }));
    const step = { kind: 'repeat', statement: 's1', times: 2 } as const;
    expect(after(beyond, tryStep, 'twice', step).live.trial).toBeDefined();
  });
});

describe('Repetition', () => {
  it('offers more times than the piece holds already, as far as it goes', () => {
    expect([1, 2, 3].map(nextTimes)).toEqual([4, 4, 4]);
    expect([4, 5, 8].map(nextTimes)).toEqual([8, 10, 16]);
    expect([9, 16, 64].map(nextTimes)).toEqual([MOST_OFFERED, MOST_OFFERED, MOST_OFFERED]);
  });
});
