import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { nameOfPupil } from '../../../core/piece/pupil.ts';
import { useApp } from '../../desk/appContext.ts';
import { dismissProblem } from '../../desk/commands/messages.ts';
import { Foot } from '../foot.tsx';
import { ListeningSign } from '../parts/listeningSign.tsx';
import { SafeSign } from '../safeSign.tsx';
import { PUPIL_WORDS } from './pupilWords.ts';

/** A button at the head: the way back. */
export interface WayBack {
  readonly text: string;
  readonly go: () => void;
}

/**
 * One screen of the pupil view: the way back, who it is, one instruction, and what it is about; Hear, Stop
 * and volume at the foot, and the one main action.
 */
export const PupilFrame = (props: {
  back: WayBack;
  instruction: string;
  hear: (() => void) | undefined;
  action: ComponentChildren;
  children: ComponentChildren;
}): ComponentChildren => {
  const { desk } = useApp();
  const pupil = desk.pupil.value;
  const piece = desk.piece.value;
  const problem = desk.problem.value;
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    // The button that was pressed is gone: what is to be done now comes first.
    if (document.activeElement === document.body) heading.current?.focus();
  }, [props.back.text, desk.view.value]);
  return (
    <div class="shell pupil-shell">
      <header>
        <button class="second way-back" onClick={props.back.go}>
          <span aria-hidden="true">‹</span> {props.back.text}
        </button>
        <b class="pupil-here">{pupil === undefined ? '' : nameOfPupil(pupil)}</b>
        <span class="quiet">{piece?.title ?? ''}</span>
        <span class="grow-space" />
        <ListeningSign />
        <SafeSign />
      </header>
      <main class="view pupil-view">
        <h1 class="instruction" tabIndex={-1} ref={heading} aria-live="polite">
          {props.instruction}
        </h1>
        {props.children}
        <Foot hear={props.hear} action={props.action} />
      </main>
      <div class="messages" role="alert">
        {problem === undefined ? null : (
          <div class="problem">
            <span aria-hidden="true">△</span>
            <p title={problem.what}>{PUPIL_WORDS.trouble}</p>
            <button
              class="second"
              onClick={() => {
                desk.run(dismissProblem);
              }}
            >
              All right
            </button>
          </div>
        )}
      </div>
    </div>
  );
};
