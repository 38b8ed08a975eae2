import type { Seconds } from '../foundation/units.ts';
import type { Strike, Take } from './take.ts';

/** Fewer strikes than these are like any others. Our choice. */
const FEWEST = 4;
/** Share of the strikes of both that must answer each other. Our choice. */
const ALIKE = 0.8;
/** Share of the middle gap, and seconds, by which answering strikes may be apart. Our choice: about two spreads of an uneven player. */
const APART = { share: 0.3, most: 0.15 };
/** The same share where all is struck on one or two bars: then only the rhythm tells. Our choice. */
const APART_BY_RHYTHM = 0.15;
/** Paces that are tried, against the first: half to twice, 3.5 % apart. Our choice. */
const PACES: readonly number[] = Array.from({ length: 41 }, (_, k) => 2 ** ((k - 20) / 20));
/** Strikes of the second from which the two are laid on each other: one of them was surely struck. */
const ANCHORS = 3;
/** Seconds: shorter gaps are chords, and say nothing of the rhythm. */
const CHORD: Seconds = 0.06;

/** How a take says what another said before. */
export interface OnceMore {
  /** Seconds of the first for a second of the other, and when the other's second 0 falls in the first. */
  readonly pace: number;
  readonly from: Seconds;
  /** Strikes that answer each other: indices into the first and the other. */
  readonly pairs: readonly (readonly [number, number])[];
  /** Strikes of the first, within what was played again, that the other lacks. */
  readonly missing: readonly number[];
  /** Strikes of the other that the first lacks. */
  readonly added: readonly number[];
}

/**
 * Whether a take plays the same idea as another, at the same pace or up to twice as fast or slowly: the same
 * bars in the same rhythm, but for a few strikes. The first may hold the idea several times.
 * @returns undefined where it is another idea
 * @example
 * const idea = [0, 1, 1.5, 2, 3].map((at, i) => ({ at, pitch: 60 + 2 * i, velocity: 90 }));
 * sameIdea(idea, idea.map(s => ({ ...s, at: 60 + 1.2 * s.at }))).pairs.length // => 5
 * sameIdea(idea, idea.map(s => ({ ...s, pitch: 60 }))) // => undefined
 */
export const sameIdea = (first: readonly Strike[], other: readonly Strike[]): OnceMore | undefined => {
  if (first.length < FEWEST || other.length < FEWEST) return undefined;
  const few = new Set(other.map(s => s.pitch)).size < 3;
  let best: OnceMore | undefined;
  for (const pace of PACES) {
    const apart = Math.min(APART.most, (few ? APART_BY_RHYTHM : APART.share) * middleGap(other) * pace);
    for (const anchor of other.slice(0, ANCHORS))
      for (const start of first) {
        if (start.pitch !== anchor.pitch) continue;
        const rough = pairsOf(first, other, pace, start.at - pace * anchor.at, apart);
        if (rough.length < FEWEST || rough.length < (best?.pairs.length ?? 0)) continue;
        const fitted = lineThrough(first, other, rough);
        if (fitted === undefined) continue;
        const found = { ...fitted, pairs: pairsOf(first, other, fitted.pace, fitted.from, apart) };
        if (found.pairs.length > (best?.pairs.length ?? 0)) best = withRest(first, other, found, apart);
      }
  }
  if (best === undefined) return undefined;
  const { pairs, missing, added, pace } = best;
  const all = pairs.length + Math.max(missing.length, added.length);
  return pairs.length >= FEWEST && pairs.length >= ALIKE * all && pace > 0.45 && pace < 2.2
    ? best
    : undefined;
};

/** Seconds between strikes in the middle of all gaps, chords aside. */
const middleGap = (strikes: readonly Strike[]): Seconds => {
  const gaps = strikes.flatMap((s, i) => {
    const gap = s.at - (strikes[i - 1]?.at ?? s.at);
    return gap > CHORD ? [gap] : [];
  });
  return [...gaps].sort((a, b) => a - b)[gaps.length >> 1] ?? 0;
};

/** Strikes on the same bar within so many seconds, each at most once, in order. */
const pairsOf = (
  first: readonly Strike[],
  other: readonly Strike[],
  pace: number,
  from: Seconds,
  apart: Seconds,
): readonly (readonly [number, number])[] => {
  const pairs: [number, number][] = [];
  const taken = new Set<number>();
  let low = 0;
  other.forEach((strike, j) => {
    const at = from + pace * strike.at;
    while (low < first.length && (first[low]?.at ?? at) < at - apart) low++;
    let nearest = -1;
    let distance = apart;
    for (let i = low; i < first.length; i++) {
      const candidate = first[i];
      if (candidate === undefined || candidate.at > at + apart) break;
      const off = Math.abs(candidate.at - at);
      if (candidate.pitch === strike.pitch && !taken.has(i) && off <= distance) {
        nearest = i;
        distance = off;
      }
    }
    if (nearest < 0) return;
    taken.add(nearest);
    pairs.push([nearest, j]);
  });
  return pairs;
};

/** The pace and start that suit these pairs best (least squares). */
const lineThrough = (
  first: readonly Strike[],
  other: readonly Strike[],
  pairs: readonly (readonly [number, number])[],
): { readonly pace: number; readonly from: Seconds } | undefined => {
  const points = pairs.map(([i, j]) => ({ x: other[j]?.at ?? 0, y: first[i]?.at ?? 0 }));
  const n = points.length;
  const x = points.reduce((sum, p) => sum + p.x, 0) / n;
  const y = points.reduce((sum, p) => sum + p.y, 0) / n;
  const square = points.reduce((sum, p) => sum + (p.x - x) ** 2, 0);
  if (square <= 0) return undefined;
  const pace = points.reduce((sum, p) => sum + (p.x - x) * (p.y - y), 0) / square;
  return { pace, from: y - pace * x };
};

const withRest = (
  first: readonly Strike[],
  other: readonly Strike[],
  found: Omit<OnceMore, 'missing' | 'added'>,
  apart: Seconds,
): OnceMore => {
  const here = new Set(found.pairs.map(([i]) => i));
  const there = new Set(found.pairs.map(([, j]) => j));
  const start = found.from + found.pace * (other[0]?.at ?? 0) - apart;
  const end = found.from + found.pace * (other.at(-1)?.at ?? 0) + apart;
  return {
    ...found,
    missing: first.flatMap((s, i) => (s.at >= start && s.at <= end && !here.has(i) ? [i] : [])),
    added: other.flatMap((_, j) => (there.has(j) ? [] : [j])),
  };
};

/** Whether it is the very same playing: no hand strikes all alike twice. */
export const isSamePlaying = (first: readonly Strike[], other: readonly Strike[], again: OnceMore): boolean =>
  again.added.length === 0 &&
  again.pairs.every(
    ([i, j]) => Math.abs((first[i]?.at ?? 0) - again.from - again.pace * (other[j]?.at ?? 0)) < 1e-4,
  );

/**
 * One take of both: the other follows the first after whole spans (bars, or the idea's length), at the first's
 * pace, as if it had been played on and on. What was struck first keeps its index; a click goes on. It is the
 * other's by its id, for it is a take of its own.
 * @param span seconds after which the idea may come again; above zero
 */
export const playedOn = (first: Take, other: Take, again: OnceMore, span: Seconds): Take => {
  const end = first.strikes.at(-1)?.at ?? 0;
  const at = (t: Seconds): Seconds => again.from + again.pace * t;
  const begin = at(other.strikes[0]?.at ?? 0);
  // Its first strike may fall a little before the span; never before what was played first has ended.
  const spans = Math.max(1, Math.ceil((end - begin) / span + 0.1));
  const later = (t: Seconds): Seconds => at(t) + spans * span;
  const strikes = [
    ...first.strikes,
    ...other.strikes.map(s => ({
      ...s,
      at: later(s.at),
      ...(s.until === undefined ? {} : { until: later(s.until) }),
    })),
  ];
  const { click } = first;
  return {
    ...first,
    id: other.id,
    source: first.source === other.source ? first.source : 'mixed',
    lengthsMean: first.lengthsMean && other.lengthsMean,
    strikes,
    ...(click === undefined ? {} : { click: goneOn(click, strikes) }),
  };
};

/** A click to the last of these strikes, and one beat more. */
const goneOn = (
  click: NonNullable<Take['click']>,
  strikes: readonly Strike[],
): NonNullable<Take['click']> => {
  const beats = [...click.beats];
  const last = beats.at(-1) ?? 0;
  const length = last - (beats.at(-2) ?? last - 1);
  const more = Math.max(0, Math.ceil(((strikes.at(-1)?.at ?? last) - last) / length) + 1);
  return { ...click, beats: [...beats, ...Array.from({ length: more }, (_, k) => last + (k + 1) * length)] };
};
