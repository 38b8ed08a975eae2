import type { ComponentChildren } from 'preact';
import { useMemo } from 'preact/hooks';
import { type Piece, readingScore } from '../../../core/piece/piece.ts';
import type { Reading } from '../../../core/reading/reading.ts';
import type { Score } from '../../../core/score/score.ts';
import { readings } from '../../store/readings.ts';
import { chooseReading } from '../../store/change.ts';
import type { Listening } from '../../store/hear.ts';
import { Incipit } from '../parts/incipit.tsx';

const sameNotes = (a: Reading, b: Reading): boolean =>
  a.reason === b.reason && JSON.stringify(a.notes) === JSON.stringify(b.notes);

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** One reading as a short stave with its reason; pressing it writes the page that way. */
const Other = (props: {
  piece: Piece;
  reading: Reading;
  index: number;
  chosen: boolean;
  listening: Listening;
}): ComponentChildren => {
  const { piece, reading, index, chosen } = props;
  const score: Score = useMemo(() => readingScore(piece, reading), [piece.key, reading]);
  const percent = Math.round(reading.confidence * 100);
  return (
    <li class={`reading card${chosen ? ' chosen' : ''}`}>
      <button
        class="reading-choose"
        aria-pressed={chosen}
        onClick={() => {
          chooseReading(index);
        }}
      >
        <span class="reading-head">
          <b>{capital(reading.reason)}</b>
          <span class="quiet">
            {percent === 0 ? 'under 1 %' : percent === 100 ? 'over 99 %' : `${String(percent)} %`}
          </span>
        </span>
        <Incipit score={score} bars={2} label={`Reading ${String(index + 1)}: ${reading.reason}`} />
      </button>
      <button
        class="plain hear-reading"
        aria-label={`Hear reading ${String(index + 1)}`}
        onClick={() => {
          props.listening.score('reading', score);
        }}
      >
        Hear it
      </button>
    </li>
  );
};

/** Other ways to write it, best first. */
export const Readings = (props: { piece: Piece; listening: Listening }): ComponentChildren => (
  <aside class="beside" aria-label="Ways to write it">
    <h2>Ways to write it</h2>
    <ol class="readings">
      {readings.value.map((reading, index) => (
        <Other
          key={index}
          piece={props.piece}
          reading={reading}
          index={index}
          chosen={sameNotes(reading, props.piece.reading)}
          listening={props.listening}
        />
      ))}
    </ol>
  </aside>
);
