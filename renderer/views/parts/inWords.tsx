import type { ComponentChildren } from 'preact';
import { textScore } from '../../../core/exchange/textScore.ts';
import type { Score } from '../../../core/score/score.ts';
import { nameStyle } from '../../store/app.ts';

/** What the page shows, as text a screen reader can walk, a line a bar. */
export const InWords = (props: { score: Score }): ComponentChildren => (
  <details class="in-words">
    <summary>The same in words</summary>
    <ol>
      {textScore(props.score, nameStyle.value).map((line, i) => (
        <li key={i}>{line}</li>
      ))}
    </ol>
  </details>
);
