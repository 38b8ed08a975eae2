import { describe, expect, it } from 'vitest';
import { keyName } from '../../../core/foundation/key.ts';
import { pieceScore, planOf } from '../../../core/piece/piece.ts';
import { growNow, keepTrial, leaveTrial, tryStep } from '../../../renderer/desk/commands/trial.ts';
import { step, undoStep } from '../../../renderer/desk/commands/step.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import { CARDS } from '../../../renderer/views/grow/cards.ts';
import { FIRST_CHOICE } from '../../../renderer/views/grow/cardChoice.ts';
import { keyBarOf, keyOptions } from '../../../renderer/views/grow/otherKeys.ts';
import { motifOf } from '../../../core/piece/piece.ts';
import { toggleLetter } from '../../../core/growing/letters.ts';
import { key } from '../../../core/foundation/key.ts';
import { after, pieceOf, pieceOn, takeOf, withPiece } from '../pieces.ts';

/** C D E G crotchets, four times. */
const four = (): DeskState =>
  after(withPiece(pieceOf(takeOf('bar', [0, 1, 2, 3], [72, 74, 76, 79], 1))), growNow, 'four', {
    kind: 'repeat',
    statement: 's1',
    times: 4,
  });
const toG = { kind: 'key', statement: 's1', bar: 3, to: { moved: 7 } } as const;
const keysOn = (desk: DeskState): string[] =>
  (pieceScore(pieceOn(desk)).keys ?? []).map(k => `${String(k.bar)} ${keyName(k.key)}`);

describe('another key, on the desk', () => {
  it('is tried, written in and undone as one step, its letter with it', () => {
    const before = four();
    const tried = after(before, tryStep, 'another key', toG);
    expect(tried.live.trial?.plan.keys).toEqual([{ bar: 2, moved: 7 }]);
    expect(planOf(pieceOn(tried))).not.toHaveProperty('keys');
    expect(after(tried, leaveTrial).live.trial).toBeUndefined();
    const kept = after(tried, keepTrial);
    expect(planOf(pieceOn(kept)).letters).toEqual([{ bar: 2, letter: 'A' }]);
    expect(planOf(pieceOn(after(kept, undoStep)))).toEqual(planOf(pieceOn(before)));
  });

  it('follows the key of the piece: a fifth higher stays a fifth higher', () => {
    const kept = after(four(), growNow, 'another key', toG);
    const first = pieceOn(kept).key;
    const inD = after(kept, step, 'key', old => ({ ...old, key: { ...key('D'), mode: first.mode } }));
    expect(keysOn(inD).map(k => k.slice(0, 3))).toEqual(['2 A']);
  });

  it('its card begins at the last letter, and offers keys no page would refuse', () => {
    const card = CARDS.find(c => c.id === 'key-change');
    const piece = pieceOn(four());
    const motif = motifOf(piece);
    const lettered = toggleLetter(toggleLetter(planOf(piece), 1), 2);
    expect(keyBarOf(FIRST_CHOICE, motif, lettered)).toBe(2);
    expect(keyBarOf(FIRST_CHOICE, motif, planOf(piece))).toBe(4);
    expect(keyBarOf({ ...FIRST_CHOICE, keyBar: 3 }, motif, lettered)).toBe(3);
    const [statement] = planOf(piece).statements;
    if (card === undefined || statement === undefined) throw new Error('no card');
    const place = { motif, plan: lettered, statement, to: 'here' as const, bar: 1, at: statement.onset };
    expect(card.step(FIRST_CHOICE, place)).toEqual({
      kind: 'key',
      statement: 's1',
      bar: 2,
      to: { moved: 7 },
    });
    const options = keyOptions(key('C'));
    expect(new Set(options.map(o => o.value)).size).toBe(options.length);
    expect(options.map(o => o.text)).toEqual(
      expect.arrayContaining([
        'a perfect fifth higher, in G major',
        'a tritone lower, in G♭ major',
        'as at the beginning, in C major',
        'as before, but written in C♯ major',
      ]),
    );
    // Twelve ways up, twelve down, home, and the fifteen signatures of major keys.
    expect(options).toHaveLength(40);
    for (const option of options.filter(
      o => !('moved' in o.to && o.to.moved === 0) && o.text !== 'as before, but written in C major',
    ))
      expect(after(four(), tryStep, 'key', { ...toG, to: option.to }).live.trial).toBeDefined();
  });
});
