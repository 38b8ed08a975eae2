import type { ComponentChildren } from 'preact';
import type { Problem } from '../../../core/foundation/result.ts';
import { useApp } from '../../desk/appContext.ts';
import { dismissProblem } from '../../desk/commands/messages.ts';
import { useFrameWords } from './frameWords.ts';

/** What went wrong, over the foot of the page until it is answered; said aloud. */
export const ProblemBox = (props: {
  /** What is said of it. */
  words: (problem: Problem) => string;
}): ComponentChildren => {
  const { desk } = useApp();
  const frame = useFrameWords();
  const problem = desk.problem.value;
  return (
    <div class="messages" role="alert">
      {problem === undefined ? null : (
        <div class="problem">
          <span aria-hidden="true">△</span>
          <p title={problem.what}>{props.words(problem)}</p>
          <button
            class="second"
            onClick={() => {
              desk.run(dismissProblem);
            }}
          >
            {frame.allRight}
          </button>
        </div>
      )}
    </div>
  );
};
