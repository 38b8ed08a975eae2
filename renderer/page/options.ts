import type { NameStyle } from '../../core/foundation/noteValue.ts';
import type { Under } from './under.ts';

/** Heights a stave can have on paper, in mm: 7 is the usual one, the others are large print. */
export const STAVE_HEIGHTS = [7, 8, 10, 12, 14] as const;
export type StaveHeight = (typeof STAVE_HEIGHTS)[number];

export interface PageOptions {
  /** Width to fill, in CSS pixels. */
  readonly width: number;
  /** 1 draws a stave 40 px high. `staveHeight` outranks it. */
  readonly scale: number;
  /** Height of a stave in CSS mm (96 pixels an inch); above 7 lines are drawn thicker. */
  readonly staveHeight?: StaveHeight | undefined;
  /** Room over each stave for brackets or a strike line, in CSS pixels. */
  readonly above: number;
  /** Room under each stave for counts and doubt, in CSS pixels. */
  readonly below: number;
  /** Room over a stave of a system beyond `above`, in CSS pixels: for names on several lines, and to fill a sheet. */
  readonly roomOver?: ((system: number, stave: number) => number) | undefined;
  /** Part names at the left. */
  readonly names: boolean;
  /** Room at the left, in CSS pixels, for names that somebody else draws; `names` is false then. */
  readonly nameRoom?: number | undefined;
  /** What stands in the room over a stave never stands over its clef: the room is counted from the notes alone. */
  readonly besideClef?: boolean | undefined;
  /** Bars may be pressed closer together than on paper, so that more of a piece is seen at once. */
  readonly close?: boolean | undefined;
  /** Metronome marks and swing. */
  readonly tempo: boolean;
  /** Rows of text under the notes, top one first. */
  readonly under?: readonly Under[] | undefined;
  /** How note values are named on the page (in a swing mark); British where left out. */
  readonly nameStyle?: NameStyle | undefined;
}

/** The scale that draws a stave so many mm high. */
export const scaleOfHeight = (mm: StaveHeight): number => ((mm / 25.4) * 96) / 40;

export const scaleOf = (options: PageOptions): number =>
  options.staveHeight === undefined ? options.scale : scaleOfHeight(options.staveHeight);

/** Below this scale signs over a system would be smaller than text on a screen may be. */
const SMALLEST_SIGNS = 0.9;

/** How much larger letters, metronome marks and bar numbers are drawn than their stave says: on paper not at all. */
export const signSize = (options: PageOptions, scale: number): number =>
  options.besideClef === true && options.staveHeight === undefined ? Math.max(1, SMALLEST_SIGNS / scale) : 1;

/**
 * How much thicker lines are drawn, for their scale: poor sight loses thin lines first (large-print
 * practice; the factors are our choice).
 */
export const weightOf = (options: PageOptions): number =>
  ({ 7: 1, 8: 1.15, 10: 1.25, 12: 1.35, 14: 1.4 })[options.staveHeight ?? 7];
