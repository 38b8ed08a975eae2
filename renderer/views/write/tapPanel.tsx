import type { ComponentChildren } from 'preact';
import { useApp } from '../../desk/appContext.ts';
import { FEWEST_TAPS } from '../../desk/commands/playing.ts';

/** While the take replays: one large pad to tap the beat on. */
export const TapPanel = (): ComponentChildren => {
  const { desk, tapping } = useApp();
  const count = desk.taps.value?.length ?? 0;
  return (
    <div class="tap-panel" role="group" aria-label="Tap the beat">
      <button
        class="tap-pad"
        onPointerDown={event => {
          event.preventDefault();
          tapping.tap((performance.now() - event.timeStamp) / 1000);
        }}
      >
        Tap here on every beat, or press Space
      </button>
      <p aria-live="polite">
        {count === 0 ? 'Listen, and tap along.' : count === 1 ? '1 tap' : `${String(count)} taps`}
      </p>
      <button class="second" disabled={count < FEWEST_TAPS} onClick={tapping.finish}>
        That is the beat
      </button>
      <button class="plain" onClick={tapping.leave}>
        Leave it
      </button>
    </div>
  );
};
