import {
  add,
  atMost,
  compare,
  divide,
  equal,
  type Fraction,
  fraction,
  less,
  negate,
  show,
  subtract,
  times,
  toNumber,
  ZERO,
} from '../foundation/fraction.ts';
import { tactus } from '../foundation/metre.ts';
import type { Score, TempoChange } from '../score/score.ts';

/** A held note lasts about twice as long (common practice, no source). */
export const HELD = 2;
/** A ritardando ends at two thirds of the tempo it began with (our choice). */
export const LAST_SHARE = 2 / 3;
/** It slows down by steps, so many a beat: what a MIDI file can say, and too small to hear one by one. */
const STEPS_A_BEAT = 4;

type Paced = Pick<Score, 'metre' | 'tempo' | 'tempi' | 'slowings' | 'holds' | 'upbeat'>;

/** Where each step of a ritardando begins; the last one ends with it. */
const stepsOf = (score: Paced, from: Fraction, to: Fraction): readonly Fraction[] => {
  const step = divide(tactus(score.metre), fraction(STEPS_A_BEAT));
  const count = Math.max(1, Math.ceil(toNumber(divide(subtract(to, from), step))));
  return Array.from({ length: count }, (_, i) => add(from, times(step, i)));
};

const paced = (score: Paced): readonly TempoChange[] => {
  const { tempi = [], slowings = [], holds = [] } = score;
  const start = negate(score.upbeat);
  const first: Pick<TempoChange, 'tempo' | 'beat'> = { tempo: score.tempo };
  const places = [
    ...tempi.map(t => t.at),
    ...slowings.flatMap(s => [...stepsOf(score, s.from, s.to), s.to]),
    ...holds.flatMap(h => [h.from, h.to]),
  ]
    .filter(at => atMost(start, at))
    .sort(compare);
  const marked = (at: Fraction): Pick<TempoChange, 'tempo' | 'beat'> =>
    tempi.filter(t => atMost(t.at, at)).at(-1) ?? first;
  const within = (s: { from: Fraction; to: Fraction }, at: Fraction): boolean =>
    atMost(s.from, at) && less(at, s.to);
  const slowed = (at: Fraction): number => {
    const here = slowings.filter(s => within(s, at));
    return here.reduce((so, s) => {
      const steps = stepsOf(score, s.from, s.to);
      const passed = steps.filter(step => atMost(step, at)).length;
      return Math.min(so, 1 - (1 - LAST_SHARE) * (passed / steps.length));
    }, 1);
  };
  const heard = places
    .filter((at, i) => i === 0 || !equal(at, places[i - 1] ?? start))
    .map((at): TempoChange => {
      const { tempo, beat } = marked(at);
      const heardNow = (tempo * slowed(at)) / (holds.some(h => within(h, at)) ? HELD : 1);
      return { at, tempo: heardNow, ...(beat === undefined ? {} : { beat }) };
    });
  const sameBeat = (a: Fraction | undefined, b: Fraction | undefined): boolean =>
    show(a ?? ZERO) === show(b ?? ZERO);
  return heard.filter((t, i) => {
    const before: Pick<TempoChange, 'tempo' | 'beat'> | undefined = i === 0 ? first : heard[i - 1];
    return t.tempo !== before?.tempo || !sameBeat(t.beat, before.beat);
  });
};

/** Of scores already asked about, and a score never changes: every place of a page asks. */
const known = new WeakMap<Paced, readonly TempoChange[]>();

/**
 * The tempo as it is heard, from place to place: the marks on the page, a ritardando step by step, and a
 * slower stretch for each note that is held. Where nothing slows down they are the marks on the page.
 * @example
 * heardTempi({ metre: metre(4, 4), tempo: 90, upbeat: ZERO, holds: [{ from: fraction(3, 4), to: fraction(1) }] }).map(t => t.tempo) // => [45, 90]
 */
export const heardTempi = (score: Paced): readonly TempoChange[] => {
  const { tempi = [], slowings = [], holds = [] } = score;
  if (slowings.length === 0 && holds.length === 0) return tempi;
  const found = known.get(score) ?? paced(score);
  known.set(score, found);
  return found;
};
