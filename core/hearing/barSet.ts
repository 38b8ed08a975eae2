import { failed, ok, type Result } from '../foundation/result.ts';
import { isNatural } from '../foundation/pitch.ts';
import type { TunedBar } from '../foundation/tunedBar.ts';
import type { MidiPitch } from '../foundation/units.ts';
import type { StruckBar } from './hear.ts';

/** Semitones: strikes nearer than this are of one bar; two bars that are each 40 cents off still lie 20 cents apart. */
const ONE_BAR = 0.12;
/** Sets are tuned to an A of 440 to 446 Hz (23 cents); a little more on either side. In semitones. */
const LOWEST_TUNING = -0.08;
const HIGHEST_TUNING = 0.3;
const STEP = 0.01;
/** Fewer bars than this are no set. */
const FEWEST = 3;
/** Further from every bar of the set than this, a strike is none of them. In semitones. */
const NEAR = 0.6;

/**
 * What speaks against a bar of that pitch being that note: how far it is off, more than 40 cents above all, and that it
 * would be an accidental, for most sets have few of them. A chromatic row has them in any case. Weights chosen by us.
 */
const MOST_OFF = 0.4;
const costOf = (pitch: number, name: MidiPitch): number => {
  const off = Math.abs(pitch - name);
  return off ** 2 + 20 * Math.max(0, off - MOST_OFF) + (isNatural(name) ? 0 : 0.2);
};

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;

/** Pitches from low to high, those of one bar as their mean. */
const barsAmong = (pitches: readonly number[]): readonly number[] => {
  const groups: number[][] = [];
  for (const pitch of [...pitches].sort((a, b) => a - b)) {
    const last = groups.at(-1);
    if (last !== undefined && pitch - mean(last) < ONE_BAR) last.push(pitch);
    else groups.push([pitch]);
  }
  return groups.map(mean);
};

/**
 * Which bars there are and how each is tuned, from every bar struck once, in any order; one struck twice counts once.
 * Of all tunings of the whole set the one is taken that leaves the bars least out of tune and no two with one name.
 * @param pitches as heard, between the semitones; bars may be off by 40 cents each, around an A of 440 to 446 Hz
 * @returns from low to high; 'out-of-range' for fewer than three bars, 'conflict' where two would be the same
 * @example
 * learnBars([77.3, 79.1, 81.4]) // => { ok: true, value: [{ sounding: 77, pitch: 77.3 }, { sounding: 79, pitch: 79.1 }, { sounding: 81, pitch: 81.4 }] }
 */
export const learnBars = (pitches: readonly number[]): Result<readonly TunedBar[]> => {
  const bars = barsAmong(pitches);
  if (bars.length < FEWEST)
    return failed({
      kind: 'out-of-range',
      what: `Only ${bars.length === 1 ? 'one bar was' : `${String(bars.length)} bars were`} heard.`,
      kept: 'What was known of the bars before still holds.',
      next: 'Strike every bar once, one after the other, and let each ring for a moment.',
    });
  let best: { readonly names: readonly MidiPitch[]; readonly cost: number } | undefined;
  for (let tuning = LOWEST_TUNING; tuning <= HIGHEST_TUNING; tuning += STEP) {
    const names = bars.map(pitch => Math.round(pitch - tuning));
    if (names.some((name, i) => i > 0 && name === names[i - 1])) continue;
    const cost = bars.reduce((sum, pitch, i) => sum + costOf(pitch - tuning, names[i] ?? 0), 0);
    if (best === undefined || cost < best.cost) best = { names, cost };
  }
  if (best === undefined)
    return failed({
      kind: 'conflict',
      what: 'Two of the bars sound too alike to be told apart.',
      kept: 'What was known of the bars before still holds.',
      next: 'Strike each bar alone, without its neighbour, and try again.',
    });
  const { names } = best;
  return ok(bars.map((pitch, i) => ({ sounding: names[i] ?? 0, pitch })));
};

/**
 * Which bar of a set was struck: the nearest, or what it would be without a set where none is near.
 * @example
 * soundingIn([{ sounding: 77, pitch: 77.6 }], { sounding: 78, pitch: 77.55 }) // => 77
 */
export const soundingIn = (
  set: readonly TunedBar[],
  { sounding, pitch }: Pick<StruckBar, 'sounding' | 'pitch'>,
): MidiPitch => {
  let nearest: TunedBar | undefined;
  for (const bar of set)
    if (nearest === undefined || Math.abs(bar.pitch - pitch) < Math.abs(nearest.pitch - pitch)) nearest = bar;
  return nearest !== undefined && Math.abs(nearest.pitch - pitch) <= NEAR ? nearest.sounding : sounding;
};

/** Two bars of a set are in doubt where one is nearer than the other by less than this, in semitones (our choice). */
const TOO_CLOSE = 0.4;

/**
 * A bar that was heard as the set knows it: which one it was, and which one it may have been instead. Without a set it
 * stays as it was heard.
 * @example
 * barInSet([{ sounding: 77, pitch: 77.4 }, { sounding: 78, pitch: 78 }], { sounding: 78, pitch: 77.65, at: 0, velocity: 90 }).nextBest // => 78
 * barInSet([], { sounding: 78, pitch: 78, at: 0, velocity: 90 }).sounding // => 78
 * barInSet([{ sounding: 77, pitch: 77.4 }], { sounding: 77, pitch: 77.4, at: 0, velocity: 90, nextBest: 89 }).nextBest // => 89
 */
export const barInSet = (set: readonly TunedBar[], bar: StruckBar): StruckBar => {
  const { nextBest, ...rest } = bar;
  const sounding = soundingIn(set, bar);
  const off = ({ pitch }: TunedBar): number => Math.abs(pitch - bar.pitch);
  const [one, ...others] = [...set].sort((a, b) => off(a) - off(b));
  const two = others.find(bar => bar.sounding !== one?.sounding);
  if (one === undefined || off(one) > NEAR || bar.unpitched === true) return bar;
  // The set knows its neighbours; of an octave, a mode or a bar that rang along it knows nothing.
  const far = nextBest !== undefined && Math.abs(nextBest - bar.sounding) > 1 ? nextBest : undefined;
  const other = two !== undefined && off(two) - off(one) < TOO_CLOSE ? two.sounding : far;
  return { ...rest, sounding, ...(other === undefined || other === sounding ? {} : { nextBest: other }) };
};
