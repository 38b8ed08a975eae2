import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import {
  type Calibration,
  calibrationShown,
  lateness,
  measured,
  measuring,
  SECONDS,
} from '../store/calibration.ts';

const late = (ms: number): string =>
  ms === 0
    ? 'on the click'
    : ms > 0
      ? `${String(ms)} ms after the click`
      : `${String(-ms)} ms before the click`;

const Known = (props: { calibration: Calibration }): ComponentChildren => {
  const all = Object.entries(lateness.value);
  if (all.length === 0) return null;
  return (
    <ul class="known-lateness">
      {all.map(([device, ms]) => (
        <li key={device}>
          {device}: {late(ms)}{' '}
          <button
            class="plain word"
            onClick={() => {
              props.calibration.forget(device);
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
export const Calibrate = (props: { calibration: Calibration }): ComponentChildren => {
  const dialog = useRef<HTMLDialogElement>(null);
  const now = measuring.value;
  const result = measured.value;
  useEffect(() => {
    dialog.current?.showModal();
    return props.calibration.leave;
  }, []);
  return (
    <dialog
      ref={dialog}
      class="card keys calibrate"
      aria-labelledby="calibrate-title"
      onClose={() => {
        calibrationShown.value = false;
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
      <Known calibration={props.calibration} />
      <div class="dialog-foot">
        <button
          class="main-action"
          onClick={() => {
            if (now === undefined) props.calibration.begin();
            else props.calibration.leave();
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
