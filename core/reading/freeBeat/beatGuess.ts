import { NO_PIN } from '../search/cells.ts';
import type { Division, Pattern } from '../rhythm/patterns.ts';
import type { PriceList } from '../rhythm/prior.ts';

/** A beat found, and the rhythm written on it. */
export interface BeatGuess {
  /** Place of each event in ticks; the first cell starts at 0. */
  readonly ticks: Int32Array;
  /** Into how many parts its beats divide. */
  readonly parts: 2 | 3;
  /** Ticks in a beat. */
  readonly beat: number;
  /** Share of the beat at which the second half of a swung pair begins. */
  readonly swingHalf: number;
  readonly cost: number;
  /** Beat length at the end, in seconds. */
  readonly length: number;
  /** Ticks at which beats begin that were held: the player waited in them. */
  readonly held: readonly number[];
}

/** One cell of a guess: the beat as it is believed to be after it, and what led there. */
export interface BeatCell {
  readonly parent: BeatCell | undefined;
  readonly pattern: Pattern;
  /** Events placed by the end of this cell. */
  readonly placed: number;
  readonly cells: number;
  /** Cells since a strike. */
  readonly silent: number;
  readonly cost: number;
  /** Start of the next cell, beat length, and their covariance. */
  readonly start: number;
  readonly length: number;
  readonly a: number;
  readonly b: number;
  readonly c: number;
  /** Ticks from the pins' own counting to this guess's, once a pinned event was placed. */
  readonly anchor: number;
  /** Whether this cell was held, and how many were by its end. */
  readonly isHeld: boolean;
  readonly held: number;
}

/** Before the first cell. */
export const NOTHING: BeatCell = {
  parent: undefined,
  pattern: 0,
  placed: 0,
  cells: 0,
  silent: 0,
  cost: 0,
  start: 0,
  length: 1,
  a: 0,
  b: 0,
  c: 0,
  anchor: NO_PIN,
  isHeld: false,
  held: 0,
};

export interface SearchOptions {
  readonly prices: PriceList;
  readonly divisions: { readonly two: readonly Division[]; readonly three: readonly Division[] };
  /** Seconds: spread of strikes. */
  readonly spread: number;
  /** Swing shares tried; [0.5] for none. */
  readonly swings: readonly number[];
  /** Kinds of beat tried. */
  readonly kinds: readonly (2 | 3)[];
  /** Nats for a beat of this many seconds of this kind, at the start. */
  readonly lengthCost: (seconds: number, parts: 2 | 3) => number;
  /** Beat lengths tried, in seconds. */
  readonly lengths: readonly number[];
  /** Spread of the first beat length about each of those, as a share. */
  readonly lengthSpread: number;
  /** Guesses kept at every strike. */
  readonly width: number;
  /** Change of the beat length from beat to beat, as a share of it. */
  readonly drift: number;
  /** Places in ticks that events must keep to each other, NO_PIN where free. */
  readonly pin: Int32Array;
  /** Strikes at the start of which four times as many guesses are kept, until the beat shows. */
  readonly opening: number;
  /** How many beats are held. */
  readonly held: number;
}

export const CELL_TICKS: Readonly<Record<2 | 3, number>> = { 2: 48, 3: 72 };
