import { frequencyOf, modeRatios } from '../../core/playback/barModes.ts';
import { renderStroke } from '../../core/playback/renderStroke.ts';
import { recordedBars } from '../hearing/recorded.ts';
import { energyIn, type ModeTrack, onsetOf, trackMode } from './modeTrack.ts';
import { centroid } from './tones.ts';

/** The recorded set stands about 15 cents over A = 440 (measured). */
const TUNED = 1.009;
const RATE = 44100;

/** Bars by sounding MIDI number, and where their modes are found in the recording, over the fundamental (measured). */
export const RECORDED: readonly (readonly [name: string, pitch: number, ratios: readonly number[]])[] = [
  ['G4', 67, [1, 3, 6.94]],
  ['C5', 72, [1, 3.01, 6.66]],
  ['G5', 79, [1, 3.21, 6.13]],
  ['C6', 84, [1, 3.02, 5.63]],
  ['G6', 91, [1, 2.79]],
  ['C7', 96, [1, 2.75]],
  ['G7', 103, [1]],
  ['C8', 108, [1]],
];

export interface Measured {
  /** Energy of modes 2 and 3 over the first second beside the fundamental's, dB: nothing of the file's peak is in it. */
  readonly upper: readonly number[];
  readonly t60: readonly number[];
  /** Centre of the first 50 ms over the fundamental. */
  readonly attack: number;
}

const measured = (samples: Float32Array, modes: readonly ModeTrack[]): Measured => {
  const [first] = modes;
  if (first === undefined) throw new Error('no modes');
  return {
    upper: modes.slice(1).map(mode => energyIn(mode) - energyIn(first)),
    t60: modes.map(mode => mode.t60),
    attack: centroid(samples, RATE, 0.05, onsetOf(samples)) / first.frequency,
  };
};

/** Differences of the upper modes, model less recording, dB. */
export const apart = (model: Measured, recording: Measured): readonly number[] =>
  model.upper.map((level, i) => level - (recording.upper[i] ?? 0));

/**
 * A recorded bar, and the model's own beside it, struck with hard plastic at mezzo-forte. Where the player struck is
 * not known, so the place is chosen that comes nearest to both upper modes: one number for two, and for a bar with
 * one upper mode no evidence at all.
 */
export const besideRecording = (
  pitch: number,
  ratios: readonly number[],
): { recording: Measured; model: Measured; place: number } => {
  const bar = recordedBars().get(pitch);
  if (bar === undefined || bar.rate !== RATE) throw new Error(`no recording of ${String(pitch)}`);
  const { samples } = bar;
  const recording = measured(
    samples,
    ratios.map(ratio => trackMode(samples, frequencyOf(pitch) * TUNED * ratio, RATE)),
  );
  const at = (place: number): { samples: Float32Array; tracks: readonly ModeTrack[] } => {
    const struck = renderStroke(
      { instrument: 'xylophone', pitch, velocity: 80, mallet: 'hard-plastic', place },
      RATE,
    );
    const tracks = ratios.map((_, i) =>
      trackMode(struck, frequencyOf(pitch) * (modeRatios('xylophone')[i] ?? 1), RATE, 20),
    );
    return { samples: struck, tracks };
  };
  // Coarse first, then fine: near the centre mode 2 changes quickly.
  const far = (place: number): number => {
    const { tracks } = at(place);
    const upper = tracks.slice(1).map(track => energyIn(track) - energyIn(tracks[0] ?? track));
    return Math.max(0, ...upper.map((level, i) => Math.abs(level - (recording.upper[i] ?? 0))));
  };
  const nearest = (places: readonly number[]): number =>
    places.map(place => [far(place), place] as const).reduce((a, b) => (b[0] < a[0] ? b : a))[1];
  const coarse = nearest([0.3, 0.34, 0.38, 0.42, 0.44, 0.46, 0.48, 0.495]);
  const place = nearest(
    [-0.01, -0.005, -0.002, 0, 0.002, 0.005, 0.01].map(step => Math.min(0.499, coarse + step)),
  );
  const best = at(place);
  return { recording, model: measured(best.samples, best.tracks), place };
};
