import { toNumber } from '../../../core/foundation/fraction.ts';
import { applyChain } from '../../../core/motif/apply.ts';
import type { Motif, Passage } from '../../../core/motif/motif.ts';
import { upbeatOf } from '../../../core/motif/motif.ts';
import type { Drawn, PupilCard } from './pupilCards.ts';

/** A note as a knot of a thread: to the right as time goes, upwards as it sounds higher. */
export interface Knot {
  readonly x: number;
  readonly y: number;
}

/** The tune, and what a card makes of it, in a picture of this size; y counts downwards. */
export interface ThreadPicture {
  readonly width: number;
  readonly height: number;
  readonly tune: readonly Knot[];
  readonly made: readonly Knot[];
}

const WIDTH = 280;
const HEIGHT = 130;
const MARGIN = 10;
/** A step of the scale is never drawn higher than this, in pixels: a tune of three notes is no mountain. */
const TALLEST_STEP = 12;
/** Steps between two threads that lie one under the other. */
const APART = 3;

const knotsOf = (passage: Passage): readonly Knot[] => {
  const before = toNumber(upbeatOf(passage));
  return passage.notes.map(note => ({ x: toNumber(note.onset) + before, y: note.degree }));
};

const moved = (knots: readonly Knot[], x: number, y: number): readonly Knot[] =>
  knots.map(knot => ({ x: knot.x + x, y: knot.y + y }));

const spanOf = (knots: readonly Knot[]): readonly [low: number, high: number] => [
  Math.min(...knots.map(knot => knot.y)),
  Math.max(...knots.map(knot => knot.y)),
];

/** Where what is made begins, against a tune of this length; and whether it lies under it. */
const placeOf = (drawn: Drawn, length: number): { readonly at: number; readonly isUnder: boolean } =>
  ({
    after: { at: length * 1.12, isUnder: false },
    with: { at: 0, isUnder: false },
    later: { at: length / 2, isUnder: true },
    below: { at: 0, isUnder: true },
  })[drawn];

/**
 * What a card does to the pupil's own tune, as two threads with knots.
 * @returns knots in pixels from the upper left corner
 */
export const threadPicture = (motif: Motif, card: Pick<PupilCard, 'treatments' | 'drawn'>): ThreadPicture => {
  const tune = knotsOf(motif);
  const after = applyChain(motif, motif.key, card.treatments);
  const { at, isUnder } = placeOf(card.drawn, toNumber(motif.length));
  const plain = knotsOf(after);
  const drop = isUnder && plain.length > 0 ? spanOf(tune)[0] - spanOf(plain)[1] - APART : 0;
  const made = moved(plain, at, drop);
  const all = [...tune, ...made];
  const [low, high] = all.length === 0 ? [0, 0] : spanOf(all);
  const right = Math.max(0.25, ...all.map(knot => knot.x));
  const perStep = Math.min(TALLEST_STEP, (HEIGHT - 2 * MARGIN) / Math.max(1, high - low));
  const middle = (low + high) / 2;
  const drawnAt = ({ x, y }: Knot): Knot => ({
    x: MARGIN + (x / right) * (WIDTH - 2 * MARGIN),
    y: HEIGHT / 2 - (y - middle) * perStep,
  });
  return { width: WIDTH, height: HEIGHT, tune: tune.map(drawnAt), made: made.map(drawnAt) };
};

/** A thread through its knots that leaves and meets each one level (a cubic between every two). */
export const threadPath = (knots: readonly Knot[]): string =>
  knots
    .map(({ x, y }, i) => {
      const before = knots[i - 1];
      if (before === undefined) return `M${x.toFixed(1)} ${y.toFixed(1)}`;
      const half = ((before.x + x) / 2).toFixed(1);
      return `C${half} ${before.y.toFixed(1)} ${half} ${y.toFixed(1)} ${x.toFixed(1)} ${y.toFixed(1)}`;
    })
    .join(' ');
