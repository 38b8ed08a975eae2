import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { nameOfPupil } from '../../../core/piece/pupil.ts';
import { useApp } from '../../desk/appContext.ts';
import { Foot } from '../foot.tsx';
import { ListeningSign } from '../parts/listeningSign.tsx';
import { FrameWordsContext } from '../parts/frameWords.ts';
import { ProblemBox } from '../parts/problemBox.tsx';
import { SafeSign } from '../safeSign.tsx';
import { usePupilTexts } from './texts/pupilTexts.ts';

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
  const texts = usePupilTexts();
  const pupil = desk.pupil.value;
  const piece = desk.piece.value;
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    // The button that was pressed is gone: what is to be done now comes first.
    if (document.activeElement === document.body) heading.current?.focus();
  }, [props.back.text, desk.view.value]);
  return (
    <FrameWordsContext.Provider value={texts.frame}>
      <div class="shell pupil-shell" lang={desk.pupilLanguage.value}>
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
        <ProblemBox words={() => texts.words.trouble} />
      </div>
    </FrameWordsContext.Provider>
  );
};
