import type { ComponentChildren } from 'preact';
import { KEY_LIST } from '../desk/acts/keys.ts';
import { useApp } from '../desk/appContext.ts';
import { set, setKeys, setPlay, showWindow } from '../desk/commands/settings.ts';
import { say } from '../../core/foundation/result.ts';
import { HelpPage } from './help/helpPage.tsx';
import { ScreenChoice } from './screenChoice.tsx';
import { PupilLanguageChoice, StartChoice } from './startChoice.tsx';
import { useShownWindow } from './parts/shownWindow.ts';

/** The app in one page, every key, and the few settings that belong to no single place. */
export const Keys = (): ComponentChildren => {
  const { desk, sound, lookForMidi } = useApp();
  const dialog = useShownWindow();
  return (
    <dialog
      ref={dialog}
      class="card keys"
      aria-labelledby="keys-title"
      onClose={() => {
        desk.run(showWindow, undefined);
      }}
    >
      <h2 id="keys-title">Help, keys and settings</h2>
      <HelpPage />
      <div class="keys-columns">
        <table>
          <tbody>
            {KEY_LIST.map(({ keys, does, single }) => (
              <tr key={keys} class={single === true && !desk.keyShortcuts.value ? 'quiet' : ''}>
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
              checked={desk.keyShortcuts.value}
              onChange={event => {
                desk.run(setKeys, event.currentTarget.checked);
              }}
            />{' '}
            Single keys do something
          </label>
          <label>
            <input
              type="checkbox"
              checked={desk.nameStyle.value === 'american'}
              onChange={event => {
                desk.run(set, { nameStyle: event.currentTarget.checked ? 'american' : 'british' });
              }}
            />{' '}
            American note names
          </label>
          <ScreenChoice />
          <StartChoice />
          <PupilLanguageChoice />
          <label>
            <input
              type="checkbox"
              checked={desk.playSettings.value.drumsAsPitched}
              onChange={event => {
                desk.run(setPlay, { drumsAsPitched: event.currentTarget.checked });
              }}
            />{' '}
            My pad sends on channel 10: treat it as bars
          </label>
          <p class="quiet">
            {desk.devices.value.length > 0
              ? `Listening to ${desk.devices.value.join(', ')}.`
              : desk.midiHint.value === undefined
                ? 'No MIDI device is plugged in.'
                : say(desk.midiHint.value)}
          </p>
          <button class="second" onClick={lookForMidi}>
            Look for MIDI devices again
          </button>
          <p class="quiet">
            Loud headphones hurt ears for good. Start low, and take them off between turns. A limiter stays
            on.
          </p>
          <label>
            Vibraphone motor{' '}
            <select
              class="blank"
              value={String(desk.motor.value)}
              onChange={event => {
                desk.run(set, { motor: Number(event.currentTarget.value) });
              }}
            >
              {MOTOR.map(({ hertz, text }) => (
                <option key={hertz} value={String(hertz)} selected={hertz === desk.motor.value}>
                  {text}
                </option>
              ))}
            </select>
          </label>
          <button
            class="second"
            onClick={() => {
              sound.panic();
            }}
          >
            Silence everything
          </button>
        </div>
      </div>
      <form method="dialog">
        <button class="second">Close</button>{' '}
        <button
          type="button"
          class="tool"
          onClick={() => {
            desk.run(showWindow, 'about');
          }}
        >
          About Malletloom
        </button>
      </form>
    </dialog>
  );
};

/** Swells a second. */
const MOTOR = [
  { hertz: 0, text: 'off' },
  { hertz: 3.5, text: 'slow' },
  { hertz: 5, text: 'medium' },
  { hertz: 7, text: 'fast' },
] as const;
