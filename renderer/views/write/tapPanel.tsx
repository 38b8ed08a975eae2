import type { ComponentChildren } from 'preact';
import { FEWEST_TAPS, type Tapping, taps } from '../../store/tapping.ts';

/** While the take replays: one large pad to tap the beat on. */
export const TapPanel = (props: { tapping: Tapping }): ComponentChildren => {
  const count = taps.value?.length ?? 0;
  return (
    <div class="tap-panel" role="group" aria-label="Tap the beat">
      <button
        class="tap-pad"
        onPointerDown={event => {
          event.preventDefault();
          props.tapping.tap((performance.now() - event.timeStamp) / 1000);
        }}
      >
        Tap here on every beat, or press Space
      </button>
      <p aria-live="polite">
        {count === 0 ? 'Listen, and tap along.' : count === 1 ? '1 tap' : `${String(count)} taps`}
      </p>
      <button class="second" disabled={count < FEWEST_TAPS} onClick={props.tapping.finish}>
        That is the beat
      </button>
      <button class="plain" onClick={props.tapping.leave}>
        Leave it
      </button>
    </div>
  );
};
