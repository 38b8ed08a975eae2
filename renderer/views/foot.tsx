import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { useApp } from '../desk/appContext.ts';
import { FirstSteps } from './help/firstSteps.tsx';
import { Volume } from './volume.tsx';
import { useFrameWords } from './parts/frameWords.ts';

/** How long what was just done is said, in ms. */
const SAID_FOR = 3000;

/** What was just done, for three seconds: a step, one that was taken back, or a line of the app's. */
const JustDone = (): ComponentChildren => {
  const { desk } = useApp();
  const { namesSteps } = useFrameWords();
  const notice = desk.notice.value;
  const steps = desk.history.value?.past.length ?? 0;
  const last = desk.history.value?.past.at(-1)?.name;
  const undone = desk.history.value?.future[0]?.name;
  const before = useRef({ notice, steps, last });
  const [said, setSaid] = useState<{ readonly text: string } | undefined>(undefined);
  useEffect(() => {
    const was = before.current;
    before.current = { notice, steps, last };
    const now =
      notice !== was.notice && notice !== ''
        ? notice
        : steps < was.steps && undone !== undefined
          ? `Taken back: ${undone}`
          : last !== undefined && (steps !== was.steps || last !== was.last)
            ? last
            : '';
    if (now !== '') setSaid({ text: now });
  }, [notice, steps, last, undone]);
  useEffect(() => {
    if (said === undefined) return;
    const timer = setTimeout(() => {
      setSaid(undefined);
    }, SAID_FOR);
    return () => {
      clearTimeout(timer);
    };
  }, [said]);
  if (!namesSteps) return <span class="just-done" />;
  // Said aloud by the line of state of the frame.
  return (
    <span class="just-done" aria-hidden="true">
      {desk.work.value?.text ?? (said === undefined ? '' : `✓ ${said.text}`)}
    </span>
  );
};

/**
 * The foot of every place. Hear, Stop and volume stand at the same spots and keep their size whatever sounds:
 * a second press where Hear was never does another thing.
 */
export const Foot = (props: {
  /** Absent where there is nothing to hear. */
  hear?: (() => void) | undefined;
  /** What will be heard, as a sentence. */
  children?: ComponentChildren;
  /** The main action of the place, and what stands beside it. */
  action?: ComponentChildren;
}): ComponentChildren => {
  const { desk, listening, opening, carrying, striking, tapping } = useApp();
  const words = useFrameWords();
  const isTapped = desk.taps.value !== undefined;
  const isAtWork = desk.work.value?.isFile === true;
  const sounds = desk.hearing.value !== undefined || desk.clickRunning.value;
  return (
    <>
      <FirstSteps />
      <div class="frame-foot">
        <button class="second hear" disabled={props.hear === undefined || isTapped} onClick={props.hear}>
          <span aria-hidden="true">▶</span> {words.hear}
        </button>
        <button
          class="second stop"
          disabled={!sounds && !isAtWork}
          title={words.escape}
          onClick={() => {
            listening.stop();
            tapping.leave();
            opening.stop();
            carrying.stop();
            if (desk.clickRunning.peek()) striking.toggleClick();
          }}
        >
          <span aria-hidden="true">■</span> {words.stop}
        </button>
        <Volume />
        <span class="sentences small foot-words">{props.children}</span>
        <JustDone />
        {props.action}
      </div>
    </>
  );
};
