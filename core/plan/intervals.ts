import { modulo } from '../foundation/pitch.ts';

const NUMBERS = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
];
/** A number in words up to twelve, in figures beyond. */
const word = (k: number): string => NUMBERS[k] ?? String(k);

/**
 * So many of something.
 * @example
 * counted(1, 'bar') // => 'one bar'
 * counted(3, 'beat') // => 'three beats'
 */
export const counted = (k: number, noun: string): string => `${word(k)} ${noun}${k === 1 ? '' : 's'}`;

const BY_LETTERS = ['', 'a second', 'a third', 'a fourth', 'a fifth', 'a sixth', 'a seventh'] as const;
const BY_SEMITONES = [
  '',
  'a semitone',
  'a tone',
  'a minor third',
  'a major third',
  'a perfect fourth',
  'a tritone',
  'a perfect fifth',
  'a minor sixth',
  'a major sixth',
  'a minor seventh',
  'a major seventh',
] as const;

const withOctaves = (octaves: number, rest: string): string => {
  const whole = octaves === 0 ? '' : octaves === 1 ? 'an octave' : counted(octaves, 'octave');
  return [whole, rest].filter(part => part !== '').join(' and ');
};
const way = (by: number): string => (by < 0 ? 'lower' : 'higher');

/**
 * How far steps of a scale move, as musicians say it: an interval by its number where the scale has every
 * letter (`size` 7); a scale of five leaves letters out, so its steps are counted.
 * @example
 * stepsApart(2, 7) // => 'a third higher'
 * stepsApart(-9, 7) // => 'an octave and a third lower'
 * stepsApart(2, 5) // => 'two steps of the scale higher'
 */
export const stepsApart = (steps: number, size: number): string => {
  const far = Math.abs(steps);
  const rest = far % size;
  const inside =
    size === 7 ? (BY_LETTERS[rest] ?? '') : rest === 0 ? '' : `${counted(rest, 'step')} of the scale`;
  return far === 0 ? 'at the same height' : `${withOctaves(Math.floor(far / size), inside)} ${way(steps)}`;
};

/**
 * How far semitones move, by the name of the interval with its quality.
 * @example
 * semitonesApart(7) // => 'a perfect fifth higher'
 * semitonesApart(-12) // => 'an octave lower'
 */
export const semitonesApart = (semitones: number): string => {
  const far = Math.abs(semitones);
  if (far === 0) return 'at the same height';
  return `${withOctaves(Math.floor(far / 12), BY_SEMITONES[far % 12] ?? '')} ${way(semitones)}`;
};

const ORDINALS = [
  'unison',
  'second',
  'third',
  'fourth',
  'fifth',
  'sixth',
  'seventh',
  'octave',
  'ninth',
  'tenth',
  'eleventh',
  'twelfth',
  'thirteenth',
  'fourteenth',
  'fifteenth',
] as const;
/** Letters an interval of 0 to 11 semitones spans; a tritone is told as a fourth. */
const LETTERS_IN = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6] as const;

/**
 * The interval an exact canon stands at, as theorists say it; `letters` as far as known, else by semitones.
 * @example
 * canonInterval(7, 4) // => 'at the fifth above'
 * canonInterval(-5) // => 'at the fourth below'
 */
export const canonInterval = (semitones: number, letters?: number): string => {
  const octaves = Math.floor(Math.abs(semitones) / 12);
  const known =
    letters === undefined
      ? 7 * octaves + (LETTERS_IN[modulo(Math.abs(semitones), 12)] ?? 0)
      : Math.abs(letters);
  const name = ORDINALS[known] ?? ORDINALS[7 + (known % 7)] ?? 'octave';
  return `at the ${name} ${semitones < 0 ? 'below' : 'above'}`;
};
