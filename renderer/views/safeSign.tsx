import type { ComponentChildren } from 'preact';
import { useApp } from '../desk/appContext.ts';

/** Whether everything done here is on disk by itself. */
export const SafeSign = (): ComponentChildren => {
  const { desk } = useApp();
  const safe = desk.safe.value;
  if (safe === undefined) return null;
  return safe !== 'unsafe' ? (
    <span class={`safe-sign ${safe}`} title="Everything done here is kept by itself">
      <span aria-hidden="true">{safe === 'safe' ? '✓ ' : '… '}</span>
      {safe === 'safe' ? 'safe, a moment ago' : 'being made safe'}
    </span>
  ) : (
    <span class="safe-sign unsafe" title="The disk takes nothing more">
      <span aria-hidden="true">△ </span>not safe
    </span>
  );
};
