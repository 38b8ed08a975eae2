import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
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

/** More bars than this are put into words when they are asked for. */
const AT_ONCE = 160;

/** What the page shows, as text a screen reader can walk, a line a bar. */
export const InWords = (props: {
  score: Score;
  /** For a screen reader alone. */
  isUnseen?: boolean;
}): ComponentChildren => {
  const [isOpen, setIsOpen] = useState(false);
  if (props.isUnseen === true) {
    return (
      <div class="in-words unseen">
        <Lines score={props.score} />
      </div>
    );
  }
  return (
    <details
      class="in-words"
      onToggle={event => {
        setIsOpen(event.currentTarget.open);
      }}
    >
      <summary>The same in words</summary>
      {isOpen || props.score.barCount <= AT_ONCE ? <Lines score={props.score} /> : null}
    </details>
  );
};
