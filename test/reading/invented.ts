import { metre, type Metre } from '../../core/foundation/metre.ts';
import type { Take } from '../../core/take/take.ts';
import { played } from '../takes/written.ts';

/** A row of numbers from 0 up to 1 that is the same everywhere (mulberry32, public domain). */
export const seeded = (seed: number): (() => number) => {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};

/** A take somebody might play, with what it means. */
export interface Invented {
  readonly take: Take;
  readonly metre: Metre;
  /** Crotchets from the first barline, one for each strike. */
  readonly at: readonly number[];
}

/** Ways of filling one beat, with how often; in beats that divide in two, and in three. */
const SIMPLE: readonly (readonly [parts: readonly number[], often: number])[] = [
  [[0], 6],
  [[0, 0.5], 6],
  [[0, 0.75], 2],
  [[0.5], 2],
  [[], 1],
  [[0, 0.25, 0.5], 1],
  [[0, 0.5, 0.75], 1],
];
const COMPOUND: readonly (readonly [parts: readonly number[], often: number])[] = [
  [[0, 1], 4],
  [[0, 0.5, 1], 4],
  [[0], 2],
  [[0, 0.75, 1], 1],
];

const chosen = (
  ways: readonly (readonly [readonly number[], number])[],
  next: () => number,
): readonly number[] => {
  let left = next() * ways.reduce((sum, [, often]) => sum + often, 0);
  for (const [parts, often] of ways) {
    left -= often;
    if (left < 0) return parts;
  }
  return [0];
};

/**
 * Ideas of one or two bars, played one to four times by players whose strikes spread by 15 to 40 ms
 * (our choice, about an adult's range), a fifth of them in 6/8. The same seed gives the same takes.
 * @param count how many
 */
export const inventedTakes = (seed: number, count: number, click: boolean): readonly Invented[] =>
  Array.from({ length: count }, (_, k) => {
    const next = seeded(seed + 7919 * k);
    const compound = k % 5 === 4;
    const m = compound ? metre(6, 8) : k % 5 === 3 ? metre(3, 4) : metre(4, 4);
    const beat = compound ? 1.5 : 1;
    const bar = (4 * m.upper) / m.lower;
    const bars = 1 + Math.floor(next() * 2);
    const times = 1 + Math.floor(next() * 4);
    const beats = (bars * bar) / beat;
    const idea = Array.from({ length: beats }, (_, b) => {
      const parts = b === 0 ? [0] : chosen(compound ? COMPOUND : SIMPLE, next);
      return parts.map(x => b * beat + x);
    }).flat();
    const pitches = idea.map(() => 60 + Math.floor(next() * 12));
    const at = Array.from({ length: times }, (_, t) => idea.map(x => x + t * bars * bar)).flat();
    const spread = 15 + 25 * next();
    const normal = (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
    const take = played({
      at,
      pitch: at.map((_, i) => pitches[i % pitches.length] ?? 60),
      off: at.map(() => spread * normal()),
      tempo: (compound ? 1.5 : 1) * (66 + 50 * next()),
      metre: m,
      click,
    });
    return { take, metre: m, at };
  });
