import { effect } from '@preact/signals';
import { INSTRUMENTS } from '../../../core/instruments/instruments.ts';
import type { KeyBars } from '../../input/keyBars.ts';
import type { MidiInput } from '../../input/midiInput.ts';
import type { Sound } from '../../sound/sound.ts';
import { storeLateness } from '../../storage/lateness.ts';
import { storeRooms } from '../../storage/rooms.ts';
import type { Desk } from '../desk.ts';

/** What does as the desk says, all the time. */
export interface Followers {
  readonly sound: Sound;
  readonly midi: Pick<MidiInput, 'setDrumsAsPitched'>;
  readonly keyBars: Pick<KeyBars, 'setOn'>;
  /** Lowest and highest tone bar shown, as written. */
  readonly bars: { readonly low: number; readonly high: number };
}

/** Sound, inputs and what this machine remembers follow the settings. @returns a way to stop */
export const followSettings = (desk: Desk, followers: Followers): (() => void) => {
  const { sound, midi, keyBars, bars } = followers;
  const ends = [
    effect(() => {
      const isHeard =
        desk.view.value === 'play' ||
        desk.window.value === 'calibration' ||
        desk.isRehearsing.value ||
        desk.pitching.value !== undefined;
      keyBars.setOn(isHeard && desk.playSettings.value.keysPlay);
    }),
    effect(() => {
      const { instrument, mallets } = desk.playSettings.value;
      const up = INSTRUMENTS[instrument].soundsAbove;
      sound.prepare({ instrument, mallet: mallets[instrument], low: bars.low + up, high: bars.high + up });
    }),
    effect(() => {
      if (!desk.isRehearsing.value) return;
      // The bars of the parts that are about to be struck, so that the first strike sounds at once.
      for (const { instrument, mallet } of desk.plan.value?.parts ?? []) {
        const up = INSTRUMENTS[instrument].soundsAbove;
        sound.prepare({ instrument, mallet, low: bars.low + up, high: bars.high + up });
      }
    }),
    effect(() => {
      midi.setDrumsAsPitched(desk.playSettings.value.drumsAsPitched);
    }),
    effect(() => {
      sound.setVolume(desk.volume.value);
    }),
    effect(() => {
      sound.setMotor(desk.motor.value);
    }),
    effect(() => {
      storeRooms(desk.rooms.value);
    }),
    effect(() => {
      storeLateness(desk.lateness.value);
    }),
  ];
  return () => {
    for (const end of ends) end();
  };
};
