import { add, atMost, equal, type Fraction, subtract } from '../foundation/fraction.ts';
import { barLength, type Metre, sameMetre, tactus } from '../foundation/metre.ts';
import type { NoteValue } from '../foundation/noteValue.ts';
import type { BarIndex } from '../foundation/units.ts';
import type { Score, ScoreBar } from './score.ts';

type Metred = Pick<Score, 'metre' | 'metres'>;

/**
 * The metre a bar is in.
 * @param index of the bar, from 0, an upbeat counted
 * @example
 * metreAt({ metre: metre(4, 4), metres: [{ bar: 4, metre: metre(3, 4) }] }, 4) // => metre(3, 4)
 */
export const metreAt = ({ metre, metres = [] }: Metred, index: BarIndex): Metre =>
  metres.filter(change => change.bar <= index).at(-1)?.metre ?? metre;

/**
 * The time signature that stands at the beginning of a bar because another metre begins there; undefined for the first
 * bar, which has its own in any case.
 * @example
 * metreChange({ metre: metre(4, 4), metres: [{ bar: 4, metre: metre(3, 4) }] }, 3) // => undefined
 */
export const metreChange = (score: Metred, index: BarIndex): Metre | undefined =>
  index < 1 ? undefined : score.metres?.find(change => change.bar === index)?.metre;

/**
 * Which note value stays as long as it was where the beat becomes another (quaver = quaver); undefined where the beat
 * is the same note value as before, or a metronome mark says what the new one is. Between crotchet and minim it is the
 * crotchet, where quavers are counted or grouped on either side the quaver (common practice, no source).
 * @param index of the bar with the new metre
 */
export const metricRelation = (
  score: Metred & Pick<Score, 'tempi' | 'parts'>,
  index: BarIndex,
): NoteValue | undefined => {
  const now = metreChange(score, index);
  if (now === undefined) return undefined;
  const before = metreAt(score, index - 1);
  const start = score.parts[0]?.bars.at(index)?.start;
  const isMarked = score.tempi?.some(t => start !== undefined && equal(t.at, start)) === true;
  if (isMarked || equal(tactus(before), tactus(now))) return undefined;
  const finer = Math.max(before.lower, now.lower);
  return { base: finer === 16 ? 16 : finer === 8 ? 8 : finer === 4 ? 4 : 2, dots: 0 };
};

/**
 * The bar in which a place lies; the last one for what lies beyond.
 * @param at from the first full barline, in semibreves
 */
export const barOfPlace = (bars: readonly ScoreBar[], at: Fraction): ScoreBar | undefined =>
  bars.filter((bar, i) => i === 0 || atMost(bar.start, at)).at(-1);

/**
 * How far a place lies from the barline of its bar: the beats of an upbeat are the last of a bar.
 * @param at from the first full barline, in semibreves, in the bar
 * @example
 * placeInBar(metre(4, 4), { start: fraction(-1, 4) }, fraction(-1, 4)) // => fraction(3, 4)
 * placeInBar(metre(3, 4), { start: fraction(4) }, fraction(17, 4)) // => fraction(1, 4)
 */
export const placeInBar = (m: Metre, bar: Pick<ScoreBar, 'start'>, at: Fraction): Fraction =>
  bar.start.n < 0 ? add(at, barLength(m)) : subtract(at, bar.start);

/** Whether another metre begins inside a stretch of bars: after its first one, before `after`. */
export const changesMetre = (score: Metred, first: BarIndex, after: BarIndex): boolean =>
  score.metres?.some(change => change.bar > first && change.bar < after) === true;

/** The metres of bars of a score, one after the other; nothing where it has but one. */
export const metresOf = (score: Metred, order: readonly BarIndex[]): Pick<Score, 'metres'> => {
  if (score.metres === undefined) return {};
  const all = order.map(from => metreAt(score, from));
  const metres = all.flatMap((metre, bar) => {
    const before = all[bar - 1];
    return before !== undefined && !sameMetre(metre, before) ? [{ bar, metre }] : [];
  });
  return metres.length === 0 ? {} : { metres };
};
