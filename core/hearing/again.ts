import type { TunedBar } from '../foundation/tunedBar.ts';
import type { MidiPitch, Seconds } from '../foundation/units.ts';
import { barInSet } from './barSet.ts';
import { freshnessOf, momentOf } from './freshness.ts';
import { type ListenedTo, listenedTo, type StruckBar } from './hear.ts';
import { knownBlows } from './knownBlows.ts';
import type { Recording } from './readWav.ts';

/** What somebody who knows says of a strike that was heard. */
export interface ToldStrike {
  /** From the start of the recording. */
  readonly at: Seconds;
  /** The bar it was heard as. */
  readonly heard: MidiPitch;
  /** The bar it was on; absent where it was no strike of the take. */
  readonly sounding?: MidiPitch;
}

/** What is known of a recording that is heard a second time. */
export interface Known {
  readonly told: readonly ToldStrike[];
  /** The room's own bars; empty where they were not learnt. */
  readonly set: readonly TunedBar[];
}

/** A recording as it is heard by who knows something of it. */
export interface HeardAgain {
  readonly struck: readonly StruckBar[];
  /** Strikes that are heard, and are none of the take by what is known. */
  readonly out: readonly StruckBar[];
}

/** All chosen by us. Seconds within which a strike is the one that is meant. */
const SAME: Seconds = 0.04;
/** Semitones: strikes nearer than this are of one bar; a bar told to be further off was no matter of tuning. */
const ONE_BAR = 0.12;
const NEIGHBOUR = 1.5;
/** How much as much as then must be new in the bar that was told, as a factor. */
const AS_NEW = 0.7;
/** Only what is softer than this velocity (some 9 dB under the take) says how loud a neighbour is. */
const SOFT = 52;

/** A strike of which something is told: its place among those heard. */
interface Told {
  readonly i: number;
  readonly sounding: MidiPitch | undefined;
}

/** The strike that is meant: at that moment, and of two in one moment the one that was heard so. */
const meant = (named: readonly StruckBar[], { at, heard, sounding }: ToldStrike): readonly Told[] => {
  const off = (bar: StruckBar): number => Math.abs(bar.at - at) + (bar.sounding === heard ? 0 : SAME);
  let best: number | undefined;
  let least = 2 * SAME;
  named.forEach((bar, i) => {
    if (Math.abs(bar.at - at) >= SAME || off(bar) >= least) return;
    least = off(bar);
    best = i;
  });
  return best === undefined ? [] : [{ i: best, sounding }];
};

/** How much is new in a bar when a blow falls, beside the blow as it was heard; a factor. */
const newBeside = ({ bands, blows, tuning }: ListenedTo, i: number, sounding: MidiPitch): number => {
  const blow = blows[i];
  if (blow === undefined) return 0;
  const off = (index: number): number => Math.abs((bands.all[index]?.midi ?? Infinity) - sounding - tuning);
  const bar = bands.all.reduce((best, _, index) => (off(index) < off(best) ? index : best), 0);
  const fresh = freshnessOf(bands, knownBlows(blows), bar, momentOf(bands, blow));
  return (fresh?.loudness ?? 0) / blow.loudness;
};

/** The bar that what was told of another strike makes of this one; undefined where it says nothing. */
const saidOf = (heard: ListenedTo, i: number, { i: j, sounding }: Told): MidiPitch | undefined => {
  const [mine, theirs] = [heard.bars[i], heard.bars[j]];
  if (mine === undefined || theirs === undefined || sounding === undefined) return undefined;
  if (Math.abs(mine.pitch - theirs.pitch) > ONE_BAR) return undefined;
  // How this room's bar is tuned; or that it was another bar altogether, which must be heard now as it was then.
  const isTuning = Math.abs(theirs.pitch - heard.tuning - sounding) <= NEIGHBOUR;
  return isTuning || newBeside(heard, i, sounding) >= AS_NEW * newBeside(heard, j, sounding)
    ? sounding
    : undefined;
};

/**
 * The bars struck in a recording, heard once more by who knows something of it. A strike that was told is what was told;
 * what is told of one goes for others like it: the same bar of the room, an octave or a mode that was taken for its bar
 * in the same way, a neighbour's as soft or softer.
 * @param recording 8 to 96 kHz
 * @example
 * struckAgain({ rate: 44100, samples: new Float32Array(4410) }, { told: [], set: [] }) // => { struck: [], out: [] }
 */
export const struckAgain = (recording: Recording, { told, set }: Known): HeardAgain => {
  const heard = listenedTo(recording);
  const { bars } = heard;
  const named = bars.map(bar => barInSet(set, bar));
  const known = told.flatMap(one => meant(named, one));
  const byHand = new Map(known.map(one => [one.i, one.sounding]));
  const softest = known
    .filter(({ sounding }) => sounding === undefined)
    .map(({ i }) => bars[i]?.velocity ?? 0)
    .filter(velocity => velocity < SOFT);
  const theirs = Math.max(0, ...softest);
  const isOut = (bar: StruckBar, i: number): boolean =>
    byHand.has(i) ? byHand.get(i) === undefined : bar.velocity <= theirs;
  const struck = named.flatMap((bar, i): readonly StruckBar[] => {
    if (isOut(bar, i)) return [];
    const { nextBest: _, perhapsNone: __, ...sure } = bar;
    const said = byHand.get(i) ?? known.flatMap(one => saidOf(heard, i, one) ?? []).at(-1);
    return said === undefined ? [bar] : [{ ...sure, sounding: said }];
  });
  return { struck, out: named.filter(isOut) };
};
