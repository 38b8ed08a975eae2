import { add, type Fraction, fraction, times } from '../../core/foundation/fraction.ts';
import { key, type Key, toScale } from '../../core/foundation/key.ts';
import { type Metre, metre } from '../../core/foundation/metre.ts';
import type { Motif } from '../../core/motif/motif.ts';
import type { InstrumentId } from '../../core/instruments/instruments.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { secondsAtOnset } from '../../core/playback/seconds.ts';

/** A note of an idea: onset and length in quavers, MIDI pitch as written, and a grace note's. */
export type Quaver = readonly [at: number, length: number, pitch: number, grace?: number];

export const idea = (
  notes: readonly Quaver[],
  bars = 1,
  k: Key = key('C'),
  m: Metre = metre(4, 4),
): Motif => ({
  key: k,
  metre: m,
  length: times(fraction(m.upper, m.lower), bars),
  notes: notes.map(([at, length, pitch, grace]) => ({
    onset: fraction(Math.round(at * 4), 32),
    duration: fraction(Math.round(length * 4), 32),
    ...toScale(k, pitch),
    ...(grace === undefined ? {} : { grace: toScale(k, grace) }),
  })),
});

export const planFor = (instrument: InstrumentId, tempo = 90): Plan => firstPlan(instrument, tempo);

/** The clock of the sound itself, so that warnings and what is heard cannot disagree. */
export const clockOf = (motif: Motif, plan: Plan): ((at: Fraction) => number) => {
  const score = scoreOfPlan(motif, plan, 'Idea', 'Wren');
  return at => secondsAtOnset(score, add(at, score.upbeat));
};
