import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import { SECONDS } from '../desk/acts/calibration.ts';
import { useApp } from '../desk/appContext.ts';
import { forgetLateness } from '../desk/commands/playing.ts';
import { showWindow } from '../desk/commands/settings.ts';
import { useShownWindow } from './parts/shownWindow.ts';

const late = (ms: number): string =>
  ms === 0
    ? 'on the click'
    : ms > 0
      ? `${String(ms)} ms after the click`
      : `${String(-ms)} ms before the click`;

const Known = (): ComponentChildren => {
  const { desk } = useApp();
  const all = Object.entries(desk.lateness.value);
  if (all.length === 0) return null;
  return (
    <ul class="known-lateness">
      {all.map(([device, ms]) => (
        <li key={device}>
          {device}: {late(ms)}{' '}
          <button
            class="plain word"
            onClick={() => {
              desk.run(forgetLateness, device);
            }}
          >
            forget
          </button>
        </li>
      ))}
    </ul>
  );
};

/** Lines a device up with the click: fifteen seconds of striking along. */
export const Calibrate = (): ComponentChildren => {
  const { desk, calibration } = useApp();
  const dialog = useShownWindow();
  const now = desk.measuring.value;
  const result = desk.measured.value;
  useEffect(() => {
    return calibration.leave;
  }, []);
  return (
    <dialog
      ref={dialog}
      class="card keys calibrate"
      aria-labelledby="calibrate-title"
      onClose={() => {
        desk.run(showWindow, undefined);
      }}
    >
      <h2 id="calibrate-title">Line up a device with the click</h2>
      <p>
        Strike any bar of the pad or keyboard on every click, for {SECONDS} seconds. What comes late is taken
        off before a rhythm is read. It is remembered on this machine.
      </p>
      <p class="calibrate-state" aria-live="polite">
        {now !== undefined
          ? `${String(now.left)} seconds left, ${now.strikes === 1 ? '1 strike' : `${String(now.strikes)} strikes`} so far.`
          : result === undefined
            ? ''
            : `${result.device} comes ${late(result.found.late)}; ${String(result.found.strikes)} strikes, uneven by ${String(result.found.spread)} ms.`}
      </p>
      <Known />
      <div class="dialog-foot">
        <button
          class="main-action"
          onClick={() => {
            if (now === undefined) calibration.begin();
            else calibration.leave();
          }}
        >
          {now === undefined ? 'Start the click' : 'Stop'}
        </button>
        <form method="dialog">
          <button class="second">Close</button>
        </form>
      </div>
    </dialog>
  );
};
