import type { ComponentChildren } from 'preact';
import { useApp } from '../desk/appContext.ts';
import { useFrameWords } from './parts/frameWords.ts';

/** Whether everything done here is on disk by itself. */
export const SafeSign = (): ComponentChildren => {
  const { desk } = useApp();
  const words = useFrameWords();
  const safe = desk.safe.value;
  if (safe === undefined) return null;
  return safe !== 'unsafe' ? (
    <span class={`safe-sign ${safe}`} title={words.keptByItself}>
      <span aria-hidden="true">{safe === 'safe' ? '✓ ' : '… '}</span>
      {safe === 'safe' ? words.safe : words.beingMadeSafe}
    </span>
  ) : (
    <span class="safe-sign unsafe" title={words.diskFull}>
      <span aria-hidden="true">△ </span>
      {words.notSafe}
    </span>
  );
};
