import { median, robustDeviation } from '../foundation/statistics.ts';
import type { BarIndex, BarNumber, Milliseconds, Seconds } from '../foundation/units.ts';
import type { Score } from '../score/score.ts';
import type { ExpectedStroke } from './expected.ts';
import type { Noticed } from './notice.ts';
import { SUSPECT } from './tolerances.ts';

/** What there is to mend: everything that was not in its place. */
export type Mend = Exclude<Noticed['kind'], 'in place'>;

/** A bar and what there is to mend in it. */
export interface BarToMend {
  readonly bar: BarIndex;
  readonly count: Readonly<Record<Mend, number>>;
  readonly total: number;
}

const NOTHING: Readonly<Record<Mend, number>> = {
  early: 0,
  late: 0,
  'other bar': 0,
  'left out': 0,
  'cut short': 0,
  added: 0,
};

/**
 * The bars in which something is to be mended, the one with most first; of two alike the earlier.
 * @param barAt the bar that goes on at a time, for blows that answer no stroke
 * @example
 * const stroke = { part: 'p1', ref: 's1:0:0', bar: 2, place: 2, seconds: 4, lasts: 1, pitch: 60, isGrace: false, pass: 0 };
 * barsToMend([{ kind: 'left out', written: stroke }], () => 0).map(b => [b.bar, b.total]) // => [[2, 1]]
 */
export const barsToMend = (
  all: readonly Noticed[],
  barAt: (at: Seconds) => BarIndex,
): readonly BarToMend[] => {
  const bars = new Map<BarIndex, Readonly<Record<Mend, number>>>();
  for (const one of all) {
    if (one.kind === 'in place') continue;
    const bar = one.kind === 'added' ? barAt(one.played.at) : one.written.bar;
    const so = bars.get(bar) ?? NOTHING;
    bars.set(bar, { ...so, [one.kind]: so[one.kind] + 1 });
  }
  return [...bars]
    .map(([bar, count]) => ({ bar, count, total: Object.values(count).reduce((a, b) => a + b, 0) }))
    .sort((a, b) => b.total - a.total || a.bar - b.bar);
};

const NUMBERS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten'];
const inWords = (count: number): string => NUMBERS[count] ?? String(count);
const strokes = (count: number): string => `${inWords(count)} ${count === 1 ? 'stroke' : 'strokes'}`;

const PHRASES: readonly { readonly kind: Exclude<Mend, 'cut short'>; readonly said: string }[] = [
  { kind: 'late', said: 'late' },
  { kind: 'early', said: 'early' },
  { kind: 'other bar', said: 'on another bar' },
  { kind: 'left out', said: 'left out' },
  { kind: 'added', said: 'more than written' },
];

/** "two strokes late and one left out": the first says what is counted, the others follow it. */
const countWords = (count: Readonly<Record<Mend, number>>): string => {
  const there = PHRASES.filter(({ kind }) => count[kind] > 0);
  const cut = count['cut short'];
  const said = [
    ...there.map(({ kind, said: word }, i) =>
      i === 0 ? `${strokes(count[kind])} ${word}` : `${inWords(count[kind])} ${word}`,
    ),
    ...(cut === 0
      ? []
      : [cut === 1 ? 'one glissando to be drawn on' : `${inWords(cut)} glissandi to be drawn on`]),
  ];
  return said.length < 2 ? (said[0] ?? '') : `${said.slice(0, -1).join(', ')} and ${said.at(-1) ?? ''}`;
};

/**
 * A bar as it is called: "bar 5", or "the upbeat".
 * @example
 * barWords(5) // => 'bar 5'
 */
export const barWords = (number: BarNumber): string =>
  number === 0 ? 'the upbeat' : `bar ${String(number)}`;

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** What is said of a playing, and which bar it would help to practise; undefined where there is none. */
export interface Said {
  readonly sentence: string;
  readonly practise: BarIndex | undefined;
}

/**
 * One plain sentence about what was played, and the bar with most to mend. No points, no marks.
 * @param barAt the bar that goes on at a time, for blows that answer no stroke
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const score = scoreOfPlan(idea, firstPlan('xylophone', 60), 'Idea', 'Heron');
 * const wanted = expectedStrokes(score, { part: 'p1', bars: { first: 0, last: 0 }, speed: 1 });
 * said(score, wanted, noticed(wanted, [{ at: 0.1, pitch: 60, velocity: 90 }]), () => 0).sentence // => 'Bar 1: one stroke late.'
 * said(score, wanted, noticed(wanted, [{ at: 0, pitch: 60, velocity: 90 }]), () => 0).sentence // => 'Every stroke was in its place.'
 */
export const said = (
  score: Pick<Score, 'parts'>,
  expected: readonly ExpectedStroke[],
  all: readonly Noticed[],
  barAt: (at: Seconds) => BarIndex,
): Said => {
  const isSilent = all.every(one => one.kind === 'left out');
  if (expected.length === 0)
    return { sentence: 'Nothing is written there for this part.', practise: undefined };
  if (isSilent) return { sentence: 'Nothing was struck. Play along, or listen first.', practise: undefined };
  const bars = barsToMend(all, barAt);
  const [first] = bars;
  if (first === undefined) return { sentence: 'Every stroke was in its place.', practise: undefined };
  const number = score.parts[0]?.bars[first.bar]?.number ?? first.bar + 1;
  const name = capital(barWords(number));
  const rest = all.some(one => one.kind === 'in place' && one.written.bar !== first.bar);
  const sentence =
    bars.length === 1
      ? `${name}: ${countWords(first.count)}.${rest ? ' All else was in its place.' : ''}`
      : `${name} has most to mend: ${countWords(first.count)}.`;
  return { sentence, practise: first.bar };
};

/**
 * How late everything came alike, in ms; undefined unless it looks like the device rather than the player.
 * @example
 * const stroke = { part: 'p1', ref: 's1:0:0', bar: 0, place: 0, seconds: 0, lasts: 1, pitch: 60, isGrace: false, pass: 0 };
 * const late = { kind: 'late', written: stroke, played: { at: 0.08, pitch: 60, velocity: 90 }, off: 80 };
 * lateAlike(Array.from({ length: 8 }, () => late)) // => 80
 * lateAlike([late]) // => undefined
 */
export const lateAlike = (all: readonly Noticed[]): Milliseconds | undefined => {
  const offs = all.flatMap(one => ('off' in one && one.kind !== 'other bar' ? [one.off] : []));
  const middle = median(offs);
  return offs.length >= SUSPECT.strokes &&
    Math.abs(middle) >= SUSPECT.late &&
    robustDeviation(offs) <= SUSPECT.spread
    ? Math.round(middle)
    : undefined;
};
