import { describe, expect, it } from 'vitest';
import { planOf } from '../../../core/piece/piece.ts';
import {
  fileName,
  ideaScore,
  lastPlayed,
  scoreToHandOn,
  scoreToRead,
} from '../../../renderer/desk/acts/handOn.ts';
import { set } from '../../../renderer/desk/commands/settings.ts';
import { createDesk } from '../../../renderer/desk/desk.ts';
import { growNow } from '../../../renderer/desk/commands/trial.ts';
import { after, pieceOf, pieceOn, withPiece } from '../pieces.ts';

describe('file names', () => {
  const named = (codeName: string, title: string, what = ''): string =>
    fileName({ ...pieceOf(), codeName, title }, 'pdf', what);

  it('hold code name, title and what it is', () => {
    expect(named('Heron', 'Ferry bell', 'parts')).toBe('Heron-Ferry-bell-parts.pdf');
    expect(named('Ötter', 'Étude №1')).toBe('Ötter-Étude-1.pdf');
  });

  it('hold nothing that a system does not take, nor a way out of the folder', () => {
    for (const bad of ['../../etc/passwd', 'a\\b', 'CON:', 'x\u0000y', 'a/b*?"<>|', '   ', '\n'])
      expect(named(bad, bad)).toMatch(/^[\p{L}\p{N}_-]+\.pdf$/u);
    expect(named('***', '???')).toBe('piece.pdf');
  });
});

describe('what is handed on', () => {
  it('the written idea before anything was grown, the piece after', () => {
    const written = pieceOf();
    expect(scoreToHandOn(written).brackets).toEqual([]);
    const grown = pieceOn(
      after(withPiece(), growNow, 'three times', { kind: 'repeat', statement: 's1', times: 3 }),
    );
    expect(scoreToHandOn(grown).brackets.length).toBe(1);
    expect(scoreToHandOn(grown).barCount).toBe(3 * ideaScore(grown).barCount);
    expect(ideaScore(grown).brackets).toEqual([]);
    expect(scoreToHandOn({ ...written, plan: planOf(written) }).brackets.length).toBe(1);
  });

  it('what was played to it last, of all that was kept', () => {
    const kept = { id: 'k1', first: 0, last: 0, speed: 1, parts: [] };
    expect(lastPlayed(pieceOf())).toBeUndefined();
    expect(lastPlayed({ ...pieceOf(), playings: [kept, { ...kept, id: 'k2' }] })?.id).toBe('k2');
  });

  it('with repeat bars only where they are asked for', () => {
    const desk = createDesk();
    const grown = pieceOn(
      after(withPiece(), growNow, 'three times', { kind: 'repeat', statement: 's1', times: 3 }),
    );
    expect(scoreToRead(desk, grown).barCount).toBe(scoreToHandOn(grown).barCount);
    desk.run(set, { repeatBars: true });
    expect(scoreToRead(desk, grown).barCount).toBe(ideaScore(grown).barCount);
  });
});
