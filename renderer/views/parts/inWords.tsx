import type { ComponentChildren } from 'preact';
import { textScore } from '../../../core/exchange/textScore.ts';
import type { Score } from '../../../core/score/score.ts';
import { useApp } from '../../desk/appContext.ts';

const Lines = (props: { score: Score }): ComponentChildren => {
  const { desk } = useApp();
  return (
    <ol>
      {textScore(props.score, desk.nameStyle.value).map((line, i) => (
        <li key={i}>{line}</li>
      ))}
    </ol>
  );
};

/** What the page shows, as text a screen reader can walk, a line a bar. */
export const InWords = (props: {
  score: Score;
  /** For a screen reader alone. */
  isUnseen?: boolean;
}): ComponentChildren =>
  props.isUnseen === true ? (
    <div class="in-words unseen">
      <Lines score={props.score} />
    </div>
  ) : (
    <details class="in-words">
      <summary>The same in words</summary>
      <Lines score={props.score} />
    </details>
  );
