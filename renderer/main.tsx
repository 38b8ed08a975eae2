import './styles/main.css';
import { effect } from '@preact/signals';
import { render } from 'preact';
import { App } from './app.tsx';
import { createKeyBars } from './input/keyBars.ts';
import { createMidiInput } from './input/midiInput.ts';
import { createReader } from './reading/reader.ts';
import { createSound } from './sound/sound.ts';
import { openAtStart } from './storage/chooseLibrary.ts';
import { INSTRUMENTS } from '../core/instruments/instruments.ts';
import { place, playSettings } from './store/app.ts';
import { complain } from './store/change.ts';
import { createListening } from './store/hear.ts';
import { calibrationShown, createCalibration, lateness } from './store/calibration.ts';
import { createTapping } from './store/tapping.ts';
import { storedLateness, storeLateness } from './storage/lateness.ts';
import { createLive, devices, inputNow, midiHint } from './store/live.ts';
import { watchLeaving } from './store/leaving.ts';
import { useReader } from './store/readings.ts';
import { watchKeys } from './store/keys.ts';
import { HIGHEST, LOWEST } from './views/play/bars.tsx';

// The composition root: everything with a side effect is made here, once, and handed down.
useReader(createReader());
const sound = createSound();
const listening = createListening(sound);
const tapping = createTapping(listening);
const calibration = createCalibration(sound, storeLateness);
lateness.value = storedLateness();
const live = createLive(sound, struck => {
  calibration.strike(struck);
  tapping.tap(inputNow() - struck.at);
});

const wake = (): void => {
  void sound.start().then(started => {
    if (!started.ok && !toldSilent) {
      toldSilent = true;
      complain(started.problem);
    }
  });
};
let toldSilent = false;
for (const gesture of ['pointerdown', 'keydown'] as const) {
  window.addEventListener(gesture, wake, { once: true, capture: true });
}

const keyBars = createKeyBars(window, {
  onStrike: live.strike,
  onRelease: live.release,
  lowest: LOWEST,
  isSetOut: pitch => !playSettings.value.lifted.includes(pitch % 12),
});
effect(() => {
  keyBars.setOn((place.value === 'play' || calibrationShown.value) && playSettings.value.keysPlay);
});
effect(() => {
  const { instrument } = playSettings.value;
  const up = INSTRUMENTS[instrument].soundsAbove;
  sound.prepare({ instrument, low: LOWEST + up, high: HIGHEST + up });
});

const midi = createMidiInput({
  onStrike: live.strike,
  onRelease: live.release,
  onGone: device => {
    live.gone(device.id);
  },
  onDevices: (all, hint) => {
    devices.value = all.map(device => device.name);
    midiHint.value = hint;
  },
  onProblem: complain,
});
void midi.start();
effect(() => {
  midi.setDrumsAsPitched(playSettings.value.drumsAsPitched);
});

const root = document.getElementById('app');
if (root !== null)
  render(
    <App
      live={live}
      listening={listening}
      tapping={tapping}
      calibration={calibration}
      sound={sound}
      lookForMidi={() => void midi.start()}
    />,
    root,
  );
watchKeys(listening, tapping);
watchLeaving(listening, tapping);
void openAtStart();
