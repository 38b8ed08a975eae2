import { INSTRUMENT_IDS, INSTRUMENTS, type InstrumentId } from '../../core/instruments/instruments.ts';
import { VELOCITY_OF } from '../../core/plan/dynamics.ts';
import { frequencyOf } from '../../core/playback/barModes.ts';
import { MALLETS_FOR } from '../../core/instruments/mallets.ts';
import { renderStroke } from '../../core/playback/renderStroke.ts';
import { partialsOf } from '../../core/playback/struckBar.ts';
import { apart, besideRecording, RECORDED } from '../playback/besideRecording.ts';
import { soundOfLine } from '../playback/line.ts';
import { centroid } from '../playback/tones.ts';
import { integratedLoudness } from '../tools/loudnessMeter.ts';
import { printTable } from './figures.ts';

const RATE = 48000;
const decibels = (factor: number): string => (20 * Math.log10(factor)).toFixed(0);
const list = (numbers: readonly number[], digits: number): string =>
  numbers.map(n => (Number.isNaN(n) ? '-' : n.toFixed(digits))).join(' ');
/** Sounding pitches low, in the middle and high. */
const threeOf = (id: InstrumentId): readonly number[] => {
  const { low, high, soundsAbove } = INSTRUMENTS[id];
  return [low + 3, Math.round((low + high) / 2), high - 3].map(written => written + soundsAbove);
};

/** The model beside the recorded xylophone: levels over the first second, decay, brightness of the attack. */
export const recordingTable = (): void => {
  printTable(
    [
      'bar',
      'struck at',
      'modes 2, 3: model',
      'recorded',
      'apart',
      'T60: model',
      'recorded',
      'attack: model',
      'recorded',
    ],
    RECORDED.map(([name, pitch, ratios]) => {
      const { model, recording, place } = besideRecording(pitch, ratios);
      return [
        name,
        ratios.length > 1 ? place.toFixed(3) : '-',
        list(model.upper, 1),
        list(recording.upper, 1),
        list(apart(model, recording), 1),
        list(model.t60, 2),
        list(recording.t60, 2),
        model.attack.toFixed(2),
        recording.attack.toFixed(2),
      ];
    }),
  );
  console.log(`  Energy of modes 2 and 3 over the first second beside the fundamental's, dB; T60 of each mode, s; centre of the
  first 50 ms over the fundamental. Where it was struck is chosen to fit modes 2 and 3 together.`);
};

/** Loudness of lines of the same velocity, and how the timbre goes with it. */
export const loudnessTable = (): void => {
  const lufs = (instrument: InstrumentId, pitch: number, velocity: number): number =>
    integratedLoudness([soundOfLine({ instrument, pitch, velocity }, RATE)], RATE);
  printTable(
    [
      'instrument',
      'low, middle, high',
      'pp to ff',
      'attack pp, mf, ff',
      'mode 2 pp, mf, ff',
      'mode 2 by mallet',
    ],
    INSTRUMENT_IDS.map(instrument => {
      const [low = 60, middle = 72] = threeOf(instrument);
      const marks = [VELOCITY_OF.pp, VELOCITY_OF.mf, VELOCITY_OF.ff];
      const second = (velocity: number, mallet = MALLETS_FOR[instrument][0]): string => {
        const [first, next] = partialsOf({ instrument, pitch: low, velocity, mallet });
        return decibels((next?.amplitude ?? 0) / (first?.amplitude ?? 1));
      };
      return [
        instrument,
        list(
          threeOf(instrument).map(pitch => lufs(instrument, pitch, VELOCITY_OF.mf)),
          1,
        ),
        (lufs(instrument, middle, VELOCITY_OF.ff) - lufs(instrument, middle, VELOCITY_OF.pp)).toFixed(1),
        list(
          marks.map(
            velocity =>
              centroid(renderStroke({ instrument, pitch: low, velocity }, RATE), RATE, 0.05) /
              frequencyOf(low),
          ),
          2,
        ),
        marks.map(velocity => second(velocity)).join(' '),
        MALLETS_FOR[instrument].map(mallet => `${mallet} ${second(VELOCITY_OF.mf, mallet)}`).join(', '),
      ];
    }),
  );
  console.log(`  Loudness of a line at mf, notes of 0.4 s, before the desk, LUFS; how much louder ff is than pp, LU. For a low bar: centre
  of the first 50 ms over the fundamental, and mode 2 beside the fundamental, dB.`);
};
