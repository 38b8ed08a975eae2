import type { ComponentChildren } from 'preact';
import type { KeptPlaying } from '../../../../core/piece/keptPlaying.ts';
import { barWords } from '../../../../core/rehearse/toMend.ts';
import type { Score } from '../../../../core/score/score.ts';
import { exportPlayed } from '../../../desk/acts/handOn.ts';
import { useApp } from '../../../desk/appContext.ts';

/** Which bars, and how fast. */
const wordsOf = (score: Score, { first, last, speed }: KeptPlaying): string => {
  const name = (bar: number): string => barWords(score.parts[0]?.bars[bar]?.number ?? bar + 1);
  const bars = first === last ? name(first) : `${name(first)} to ${name(last)}`;
  return `${bars}, at ${String(Math.round(speed * 100))} %`;
};

/** What was played and kept, newest first: each heard as it was played, and handed on. */
export const KeptPlayings = (props: { score: Score }): ComponentChildren => {
  const { desk, listening } = useApp();
  const piece = desk.piece.value;
  const playings = piece?.playings ?? [];
  if (piece === undefined || playings.length === 0) return null;
  return (
    <section aria-label="Played and kept">
      <h3>Played and kept</h3>
      <ul class="noticed-lines">
        {[...playings].reverse().map(playing => {
          const words = wordsOf(props.score, playing);
          return (
            <li key={playing.id} class="kept-playing">
              <span>{words}</span>
              <button
                class="tool"
                aria-label={`Hear what was played, ${words}`}
                onClick={() => {
                  listening.played(playing);
                }}
              >
                Hear
              </button>
              <button
                class="tool"
                aria-label={`MIDI file of what was played, ${words}`}
                title="The page and what was played, in one file"
                onClick={() => {
                  exportPlayed(desk, piece, playing);
                }}
              >
                MIDI file
              </button>
            </li>
          );
        })}
      </ul>
    </section>
  );
};
