import { add, divide, type Fraction, fraction, less, subtract, ZERO } from '../foundation/fraction.ts';
import {
  fullScale,
  type Key,
  scaleMidi,
  type ScalePitch,
  spell,
  spellScale,
  toScaleAs,
} from '../foundation/key.ts';
import { barLength, beatLengths, type Metre } from '../foundation/metre.ts';
import { letterName, midiOf, modulo, pitchName, type Spelled } from '../foundation/pitch.ts';
import type { MotifNote, Passage } from '../motif/motif.ts';

/** How the two notes of a drone are struck: together, one after the other, or hand over hand. */
export type DroneFigure = 'simple' | 'broken' | 'crossover';

/**
 * What a part plays under the idea, a bar of it: notes the pupil chose, struck in a figure the pupil chose.
 * `steps` are degrees of the seven-note scale, counted as in `ScalePitch` (the tonic of octave 4 is 28).
 */
export type Accompaniment = (
  | { readonly kind: 'drone'; readonly figure: DroneFigure }
  | { readonly kind: 'chord' }
  | {
      readonly kind: 'ending';
      /** Shorter by the upbeat of the idea, as the last bar of a piece with one is; absent in pieces kept before. */
      readonly closed?: true;
    }
) & {
  readonly steps: readonly number[];
  /** The metre whose bar it fills; absent for the first of the piece. */
  readonly metre?: Metre;
};

export const MOST_NOTES_AT_ONCE = 4;

/** A step of the seven-note scale as the key tells it. */
const pitchAt = (k: Key, step: number): ScalePitch =>
  toScaleAs(k, spellScale(fullScale(k), { degree: step, alter: 0 }));

/** Places of a bar and how long each lasts, as a figure strikes them. */
type Place = readonly [onset: Fraction, duration: Fraction];

const placesOf = (lengths: readonly Fraction[]): readonly Place[] => {
  let at = ZERO;
  return lengths.map(length => {
    const place: Place = [at, length];
    at = add(at, length);
    return place;
  });
};

/** Half bars of four beats, a whole bar of three, else beat by beat: where both notes fall together. */
const strong = (m: Metre): readonly Place[] => {
  const beats = beatLengths(m);
  const [one] = beats;
  if (one === undefined || beats.length === 3) return [[ZERO, barLength(m)]];
  if (beats.length !== 4) return placesOf(beats);
  return placesOf([add(one, one), add(one, one)]);
};

/** The beats, or where a bar has but one or two of them, what they divide into, each with its place in the beat. */
const moving = (m: Metre): readonly { readonly place: Place; readonly index: number }[] => {
  const beats = beatLengths(m);
  if (beats.length > 2) return placesOf(beats).map((place, index) => ({ place, index }));
  const parts = beats.map(beat => {
    const pulses = (beat.n * m.lower) / beat.d;
    return pulses > 1 && Number.isInteger(pulses) ? pulses : 2;
  });
  const places = placesOf(
    beats.flatMap((beat, i) =>
      Array.from({ length: parts[i] ?? 1 }, () => divide(beat, fraction(parts[i] ?? 1))),
    ),
  );
  // Two beats in two make one figure of four; longer beats have one each.
  const within = parts.flatMap(count => Array.from({ length: count }, (_, i) => i));
  const run = parts.every(count => count === 2);
  return places.map((place, i) => ({ place, index: run ? i : (within[i] ?? i) }));
};

/** What a broken or crossed drone strikes next: low and high by turns; low, high, the low one's octave, high. */
const turn = (figure: DroneFigure, index: number, low: number, high: number): number => {
  if (figure === 'broken') return index % 2 === 0 ? low : high;
  return [low, high, low + 7, high][index % 4] ?? low;
};

/**
 * One bar of an accompaniment; a closed ending lasts a bar without what the upbeat takes.
 * @param upbeat of the idea, in semibreves
 * @example
 * const simple = { kind: 'drone', figure: 'simple', steps: [21, 25] };
 * accompanimentPassage(key('C'), metre(4, 4), simple).notes.map(n => show(n.onset)) // => ['0', '0', '1/2', '1/2']
 */
export const accompanimentPassage = (
  k: Key,
  first: Metre,
  what: Accompaniment,
  upbeat: Fraction = ZERO,
): Passage => {
  const m = what.metre ?? first;
  const together = (places: readonly Place[], steps: readonly number[]): readonly MotifNote[] =>
    places.flatMap(([onset, duration]) => steps.map(step => ({ onset, duration, ...pitchAt(k, step) })));
  const [low, high] = what.steps;
  const bar = barLength(m);
  const isShort = what.kind === 'ending' && what.closed === true && less(upbeat, bar);
  const length = isShort ? subtract(bar, upbeat) : bar;
  if (what.kind !== 'drone') return { length, notes: together([[ZERO, length]], what.steps) };
  if (what.figure === 'simple' || low === undefined || high === undefined)
    return { length, notes: together(strong(m), what.steps) };
  const notes = moving(m).map(({ place: [onset, duration], index }) => ({
    onset,
    duration,
    ...pitchAt(k, turn(what.figure, index, low, high)),
  }));
  return { length, notes };
};

/**
 * The notes of an accompaniment as they are spelled, low to high as chosen.
 * @param written the key of the page, where its signature alone is another
 */
export const spelledSteps = (k: Key, what: Accompaniment, written = k): readonly Spelled[] =>
  what.steps.map(step => {
    const own = spellScale(fullScale(k), { degree: step, alter: 0 });
    return written === k ? own : spell(written, midiOf(own));
  });

/** Whether two notes are the tonic of the key and the fifth over it, which makes a drone a bordun. */
const isBordun = (k: Key, { steps: [low, high, ...more] }: Accompaniment, written: Key): boolean => {
  if (low === undefined || high === undefined || more.length > 0) return false;
  const midi = (step: number): number => scaleMidi(fullScale(k), { degree: step, alter: 0 });
  const tonic = scaleMidi(written, { degree: 0, alter: 0 });
  return modulo(midi(low) - tonic, 12) === 0 && modulo(midi(high) - midi(low), 12) === 7;
};

/**
 * What an accompaniment is, in trade words: a drone of tonic and fifth is a bordun.
 * @example
 * accompanimentName(key('C'), { kind: 'drone', figure: 'broken', steps: [21, 25] }) // => 'broken bordun, C and G'
 * accompanimentName(key('C'), { kind: 'drone', figure: 'simple', steps: [22] }) // => 'drone, D'
 * accompanimentName(key('C'), { kind: 'chord', steps: [24, 26, 28] }) // => 'chord, F A C'
 */
export const accompanimentName = (k: Key, what: Accompaniment, written = k): string => {
  const letters = spelledSteps(k, what, written).map(letterName);
  if (what.kind === 'chord') return `chord, ${letters.join(' ')}`;
  if (what.kind === 'ending') return 'ending, a long note';
  const name = isBordun(k, what, written) ? 'bordun' : 'drone';
  const figure =
    what.steps.length === 2 && (what.figure !== 'simple' || name === 'bordun') ? `${what.figure} ` : '';
  return `${figure}${name}, ${letters.join(' and ')}`;
};

/** Its technique, for the register. */
export const accompanimentTechnique = (k: Key, what: Accompaniment, written = k): string =>
  what.kind === 'drone' && isBordun(k, what, written) ? 'bordun' : what.kind;

/** A step of the seven-note scale that may be chosen, by its name. */
export interface StepChoice {
  readonly step: number;
  readonly name: string;
}

/**
 * Steps a pupil may choose for an accompaniment, as names: an octave either way of the tonic under the idea.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: ZERO, duration: fraction(1, 4), degree: 30, alter: 0 }] };
 * stepChoices(idea.key, idea)[7] // => { step: 28, name: 'C4' }
 */
export const stepChoices = (k: Key, idea: Passage): readonly StepChoice[] => {
  const full = fullScale(k);
  const lowest = Math.min(...idea.notes.map(note => scaleMidi(k, note)), 127);
  const tonic = (octave: number): number => scaleMidi(full, { degree: 7 * octave, alter: 0 });
  let octave = 5;
  while (octave > 2 && tonic(octave) > lowest) octave -= 1;
  return Array.from({ length: 15 }, (_, i) => 7 * (octave - 1) + i).map(step => ({
    step,
    name: pitchName(spellScale(full, { degree: step, alter: 0 })),
  }));
};
