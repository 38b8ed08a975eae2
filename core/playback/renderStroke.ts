import type { Hertz, Seconds } from '../foundation/units.ts';
import { addKnock, knockOf } from './knock.ts';
import { strokeGain } from './strokeLoudness.ts';
import { type BarPartial, type BarStroke, contactTime, partialsOf } from './struckBar.ts';

/**
 * No stroke is rendered for longer than this: a low vibraphone bar would ring for 40 s and cost
 * 8 MB. What still sounds then is faded over the last quarter.
 */
export const LONGEST_STROKE: Seconds = 5;

/** Above this share of the sample rate a partial is left out, or it would fold back as a wrong tone. */
const HIGHEST = 0.45;

/** Time until a partial has fallen 62 dB below the stroke's strongest. */
const ringsFor = ({ amplitude, t60 }: Pick<BarPartial, 'amplitude' | 't60'>): Seconds =>
  (t60 * Math.max(0, 62 + 20 * Math.log10(Math.abs(amplitude)))) / 60;

/**
 * Adds one decaying sine as long as it can be heard, by a two-pole recursion. This and the loops
 * below are what a first strike waits for: plain loops, no array methods.
 */
const addSine = (
  into: Float64Array,
  sine: Pick<BarPartial, 'frequency' | 'amplitude' | 't60'>,
  sampleRate: Hertz,
): void => {
  const { frequency, amplitude, t60 } = sine;
  const turn = (2 * Math.PI * frequency) / sampleRate;
  const shrink = 10 ** (-3 / (t60 * sampleRate));
  const a = 2 * shrink * Math.cos(turn);
  const b = shrink * shrink;
  let now = 0;
  let next = amplitude * shrink * Math.sin(turn);
  const length = Math.min(into.length, Math.ceil(ringsFor(sine) * sampleRate));
  for (let i = 0; i < length; i += 1) {
    into[i] = (into[i] ?? 0) + now;
    const after = a * next - b * now;
    now = next;
    next = after;
  }
};

/** A partial; what its tube does not give yet while it fills is taken off again. */
const addPartial = (into: Float64Array, partial: BarPartial, sampleRate: Hertz): void => {
  addSine(into, partial, sampleRate);
  const { frequency, amplitude, t60, tube } = partial;
  if (tube === undefined) return;
  const missing = {
    frequency,
    amplitude: -tube.share * amplitude,
    t60: 1 / (1 / t60 + 1 / (6.9078 * tube.fills)),
  };
  addSine(into, missing, sampleRate);
};

/** The push of the mallet rises, it does not jump; a jump would click. */
const softenStart = (samples: Float64Array, contact: Seconds, sampleRate: Hertz): void => {
  const length = Math.min(samples.length, Math.round((contact / 2) * sampleRate));
  for (let i = 0; i < length; i += 1) {
    samples[i] = (samples[i] ?? 0) * (0.5 - 0.5 * Math.cos((Math.PI * (i + 1)) / (length + 1)));
  }
};

const fadeEnd = (samples: Float64Array, fade: Seconds, sampleRate: Hertz): void => {
  const length = Math.min(samples.length, Math.round(fade * sampleRate));
  const start = samples.length - length;
  for (let i = 0; i < length; i += 1) {
    samples[start + i] = (samples[start + i] ?? 0) * (0.5 + 0.5 * Math.cos((Math.PI * (i + 1)) / length));
  }
};

/**
 * One stroke as sound, mono, its first sample at the moment of the blow. The same stroke gives the
 * same samples every time. As loud as `loudnessOf(velocity)` says, whatever the instrument and the pitch.
 * @param sampleRate samples a second, 8000 or more
 * @param longest what rings on is faded over the last quarter
 */
export const renderStroke = (
  stroke: BarStroke,
  sampleRate: Hertz,
  longest: Seconds = LONGEST_STROKE,
): Float32Array => {
  const audible = partialsOf(stroke).filter(
    (partial, mode) => mode === 0 || partial.frequency < HIGHEST * sampleRate,
  );
  const rings = Math.max(...audible.map(ringsFor));
  const seconds = Math.min(rings, longest);
  const samples = new Float64Array(Math.ceil(seconds * sampleRate));
  for (const partial of audible) addPartial(samples, partial, sampleRate);
  addKnock(samples, knockOf(stroke), sampleRate);
  softenStart(samples, contactTime(stroke), sampleRate);
  fadeEnd(samples, rings > longest ? longest / 4 : 0.01, sampleRate);
  const level = strokeGain(stroke);
  const rendered = new Float32Array(samples.length);
  for (let i = 0; i < samples.length; i += 1) rendered[i] = (samples[i] ?? 0) * level;
  return rendered;
};
