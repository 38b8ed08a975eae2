import { describe, expect, it } from 'vitest';
import { expectedStrokes } from '../../../core/rehearse/expected.ts';
import type { PlayedStroke } from '../../../core/rehearse/notice.ts';
import { playingAlong } from '../../../core/rehearse/result.ts';
import { pieceScore } from '../../../core/piece/piece.ts';
import { setCursor, setHeard } from '../../../renderer/desk/commands/playing.ts';
import { setRehearsed } from '../../../renderer/desk/commands/rehearsal.ts';
import { alongWords } from '../../../renderer/views/pupil/alongStep.tsx';
import { ENGLISH } from '../../../renderer/views/pupil/texts/english.ts';
import { after, pieceOn, withPiece } from '../pieces.ts';

const words = ENGLISH.words;
const start = withPiece();
const score = pieceScore(pieceOn(start));
const bars = { first: 0, last: score.barCount - 1 };
const exact: readonly PlayedStroke[] = expectedStrokes(score, { part: 'p1', bars, speed: 1 }).map(
  ({ seconds, pitch }) => ({ at: seconds, pitch, velocity: 90 }),
);
const said = (strikes: readonly PlayedStroke[]): string =>
  alongWords(
    after(start, setRehearsed, {
      score,
      playing: playingAlong(score, {
        bars,
        speed: 1,
        loop: false,
        lasted: 60,
        ended: true,
        strikes: { p1: strikes },
      }),
    }),
    words,
  );

describe('what a pupil is told while playing along', () => {
  it('is to begin, to wait for the count, and to play', () => {
    expect(alongWords(start, words)).toBe(words.along);
    const heard = after(start, setHeard, { what: 'rehearsal', startsAt: 0 });
    expect(alongWords(heard, words)).toBe(words.counted);
    expect(alongWords(after(heard, setCursor, -0.5), words)).toBe(words.counted);
    expect(alongWords(after(heard, setCursor, 0), words)).toBe(words.playing);
    // Hear is another thing.
    expect(alongWords(after(start, setHeard, { what: 'piece' }), words)).toBe(words.along);
  });

  it('is how it went, kindly', () => {
    expect(exact.length).toBeGreaterThan(4);
    expect(said(exact)).toBe(words.allWell);
    expect(said(exact.slice(1))).toBe(words.mend);
    expect(said([{ at: 0.7, pitch: 40, velocity: 90 }])).toBe(words.listen);
    expect(said([])).toBe(words.silent);
  });
});
