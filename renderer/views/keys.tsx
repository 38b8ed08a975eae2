import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { keyShortcuts, nameStyle, playSettings } from '../store/app.ts';
import { KEY_LIST, keysShown } from '../store/keys.ts';
import { say } from '../../core/foundation/result.ts';
import { devices, midiHint } from '../store/live.ts';
import { ScreenChoice } from './screenChoice.tsx';
import type { Sound } from '../sound/sound.ts';

/** Every key, and the few settings that belong to no single place. */
export const Keys = (props: { sound: Sound; lookForMidi: () => void }): ComponentChildren => {
  const dialog = useRef<HTMLDialogElement>(null);
  const [volume, setVolume] = useState(lastVolume);
  const [swells, setSwells] = useState(lastSwells);
  useEffect(() => {
    dialog.current?.showModal();
  }, []);
  return (
    <dialog
      ref={dialog}
      class="card keys"
      aria-labelledby="keys-title"
      onClose={() => {
        keysShown.value = false;
      }}
    >
      <h2 id="keys-title">Keys and settings</h2>
      <div class="keys-columns">
        <table>
          <tbody>
            {KEY_LIST.map(({ keys, does, single }) => (
              <tr key={keys} class={single === true && !keyShortcuts.value ? 'quiet' : ''}>
                <th scope="row">
                  <kbd>{keys}</kbd>
                </th>
                <td>{does}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <div class="settings">
          <label>
            <input
              type="checkbox"
              checked={keyShortcuts.value}
              onChange={event => {
                keyShortcuts.value = event.currentTarget.checked;
                playSettings.value = { ...playSettings.value, keysPlay: event.currentTarget.checked };
              }}
            />{' '}
            Single keys do something
          </label>
          <label>
            <input
              type="checkbox"
              checked={nameStyle.value === 'american'}
              onChange={event => {
                nameStyle.value = event.currentTarget.checked ? 'american' : 'british';
              }}
            />{' '}
            American note names
          </label>
          <ScreenChoice />
          <label>
            <input
              type="checkbox"
              checked={playSettings.value.drumsAsPitched}
              onChange={event => {
                playSettings.value = { ...playSettings.value, drumsAsPitched: event.currentTarget.checked };
              }}
            />{' '}
            My pad sends on channel 10: treat it as bars
          </label>
          <p class="quiet">
            {devices.value.length > 0
              ? `Listening to ${devices.value.join(', ')}.`
              : midiHint.value === undefined
                ? 'No MIDI device is plugged in.'
                : say(midiHint.value)}
          </p>
          <button class="second" onClick={props.lookForMidi}>
            Look for MIDI devices again
          </button>
          <label>
            Loudness
            <input
              type="range"
              min={-40}
              max={0}
              step={1}
              value={volume}
              onInput={event => {
                lastVolume = event.currentTarget.valueAsNumber;
                setVolume(lastVolume);
                props.sound.setVolume(lastVolume);
              }}
            />
          </label>
          <p class="quiet">
            Loud headphones hurt ears for good. Start low, and take them off between turns. A limiter stays
            on.
          </p>
          <label>
            Vibraphone motor{' '}
            <select
              class="blank"
              value={String(swells)}
              onChange={event => {
                lastSwells = Number(event.currentTarget.value);
                setSwells(lastSwells);
                props.sound.setMotor(lastSwells);
              }}
            >
              {MOTOR.map(({ hertz, text }) => (
                <option key={hertz} value={String(hertz)} selected={hertz === swells}>
                  {text}
                </option>
              ))}
            </select>
          </label>
          <button
            class="second"
            onClick={() => {
              props.sound.panic();
            }}
          >
            Silence everything
          </button>
        </div>
      </div>
      <form method="dialog">
        <button class="second">Close</button>
      </form>
    </dialog>
  );
};

let lastVolume = -12;
let lastSwells = 0;

/** Swells a second. */
const MOTOR = [
  { hertz: 0, text: 'off' },
  { hertz: 3.5, text: 'slow' },
  { hertz: 5, text: 'medium' },
  { hertz: 7, text: 'fast' },
] as const;
