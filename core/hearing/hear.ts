import type { MidiPitch, Seconds, Velocity } from '../foundation/units.ts';
import { type PitchBands, bandsOf, decibels, loudnessAt } from './bands.ts';
import { bandOnsetsIn } from './bandOnsets.ts';
import type { Blow } from './blow.ts';
import { blowsIn } from './blows.ts';
import { DOUBT } from './constants.ts';
import { contactsIn } from './contacts.ts';
import type { Recording } from './readWav.ts';
import { thinned } from './thin.ts';

/** A bar that was heard to be struck. */
export interface StruckBar {
  /** From the start of the recording. */
  readonly at: Seconds;
  /** What sounds: a xylophone sounds an octave above its part. */
  readonly sounding: MidiPitch;
  /** The same before it is rounded, and with the tuning of the set in it: between the semitones. */
  readonly pitch: number;
  /** From its loudness beside the others of the recording. */
  readonly velocity: Velocity;
  /** What it may be instead: the next bar, where it is far out of tune; or one that sounds hardly less new. */
  readonly nextBest?: MidiPitch;
  /** It is so soft beside the others that it may be somebody else's. */
  readonly perhapsNone?: true;
  /** A clap, a tap or a drum: the pitch stands for none. */
  readonly unpitched?: true;
}

/** The velocity of a blow as loud as the take, and dB for ten times as much: how velocity is made loud here too. */
const USUAL_VELOCITY = 100;
const TEN_TIMES = 32;

/** The pitch of a blow between the bands: the top of a parabola through the loudest and its neighbours, in dB. */
export const pitchOf = ({ all, hop, looks }: PitchBands, blow: Blow): number => {
  const lag = all[blow.band]?.lag ?? 0;
  const look = Math.max(0, Math.min(looks - 1, Math.round((blow.rose + 3 * lag) / hop)));
  const level = (index: number): number => decibels(loudnessAt(all[index], look));
  const top = level(blow.band + 1) > level(blow.band) ? 1 : level(blow.band - 1) > level(blow.band) ? -1 : 0;
  const index = blow.band + top;
  const [under, here, over] = [level(index - 1), level(index), level(index + 1)];
  const bend = under - 2 * here + over;
  const off = bend < 0 ? Math.max(-0.5, Math.min(0.5, (under - over) / 2 / bend)) : 0;
  const [low, high] = [all[index]?.midi ?? 0, all[index + 1]?.midi ?? 0];
  return low + off * (high === 0 ? 0 : high - low);
};

/** The pitch that the bar would have on which it may have been instead. */
export const otherPitchOf = (bands: PitchBands, blow: Blow): number | undefined =>
  blow.otherwise === undefined ? undefined : pitchOf(bands, { ...blow, band: blow.otherwise });

/** How far a set of bars is off the piano's tuning as a whole, in semitones: the middle of its pitches on the circle. */
export const tuningOf = (pitches: readonly number[]): number => {
  const turn = (f: (angle: number) => number): number =>
    pitches.reduce((sum, pitch) => sum + f(2 * Math.PI * pitch), 0);
  return Math.atan2(turn(Math.sin), turn(Math.cos)) / (2 * Math.PI);
};

/** Further than this from its semitone, in semitones, a bar may be its neighbour (our choice: bars are off by 40 cents). */
const FAR_OUT = 0.3;

/** A blow as a bar that was struck. @param pitch between the bands @param tuning of the set, in semitones */
export const barOf = (
  blow: Blow,
  pitch: number,
  { level, tuning, other }: { level: number; tuning: number; other?: number | undefined },
): StruckBar => {
  const sounding = Math.round(pitch - tuning);
  const off = pitch - tuning - sounding;
  const instead =
    Math.abs(off) > FAR_OUT
      ? sounding + Math.sign(off)
      : other === undefined
        ? undefined
        : Math.round(other - tuning);
  const under = level - decibels(blow.loudness);
  return {
    at: Math.max(0, blow.at),
    sounding,
    pitch,
    ...(instead === undefined || instead === sounding ? {} : { nextBest: instead }),
    ...(under > DOUBT.soft ? { perhapsNone: true } : {}),
    velocity: Math.max(1, Math.min(127, Math.round(USUAL_VELOCITY * 10 ** (-under / TEN_TIMES)))),
  };
};

/** All that is known of the bars struck in a recording, once it was listened to; lists belong together. */
export interface ListenedTo {
  readonly bands: PitchBands;
  readonly blows: readonly Blow[];
  readonly bars: readonly StruckBar[];
  /** How far the set is off the piano's tuning, in semitones. */
  readonly tuning: number;
}

/** Listens to a whole recording. @param recording 8 to 96 kHz */
export const listenedTo = (recording: Recording): ListenedTo => {
  const bands = bandsOf(thinned(recording));
  const { all: blows, level } = blowsIn(bands, bandOnsetsIn(bands), contactsIn(bands));
  const pitches = blows.map(blow => pitchOf(bands, blow));
  const tuning = tuningOf(pitches);
  const bars = blows.map((blow, i) =>
    barOf(blow, pitches[i] ?? 0, { level, tuning, other: otherPitchOf(bands, blow) }),
  );
  return { bands, blows, bars, tuning };
};

/**
 * The bars that are heard to be struck in a recording, in order of time: each where its fundamental begins to sound,
 * told as soon as its modes tell it.
 * @param recording 8 to 96 kHz; where it is silent nothing is heard
 * @example
 * struckBars({ rate: 44100, samples: new Float32Array(44100) }) // => []
 */
export const struckBars = (recording: Recording): readonly StruckBar[] => listenedTo(recording).bars;
