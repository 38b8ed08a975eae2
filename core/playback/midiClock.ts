import { toNumber } from '../foundation/fraction.ts';
import type { Seconds } from '../foundation/units.ts';
import { playedOut } from '../score/repeats.ts';
import type { Score } from '../score/score.ts';
import { scoreLength } from './perform.ts';
import { secondsAsPlayed } from './seconds.ts';

/** MIDI clocks in a crotchet (MIDI 1.0 detailed specification, system real time messages). */
export const CLOCKS = 24;
/** MIDI clocks in a unit of the song position pointer: a semiquaver (as above, system common messages). */
export const CLOCKS_A_POSITION = 6;

/** One MIDI clock of a piece. */
export interface ClockPulse {
  /** Counted from the start of the piece, its upbeat included, from 0. */
  readonly pulse: number;
  readonly seconds: Seconds;
}

/**
 * The MIDI clocks of a piece, at its tempo and through every change of it, repeats played out. They are even where
 * notes swing: a clock counts time, not written values.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const score = scoreOfPlan(idea, firstPlan('xylophone', 60), 'Idea', 'Heron');
 * clockPulses(score).length // => 96
 * clockPulses(score)[24] // => { pulse: 24, seconds: 1 }
 */
export const clockPulses = (written: Score): readonly ClockPulse[] => {
  const score = playedOut(written);
  const upbeat = toNumber(score.upbeat);
  const count = Math.ceil(toNumber(scoreLength(score)) * 4 * CLOCKS - 1e-9);
  return Array.from({ length: count }, (_, pulse) => ({
    pulse,
    seconds: secondsAsPlayed(score, pulse / (4 * CLOCKS) - upbeat),
  }));
};

/**
 * Clocks of a part of a piece, on the clock of what is played of it.
 * @param from seconds of the piece at which it begins
 * @param lead seconds that are counted before it
 * @example
 * clocksFrom([{ pulse: 0, seconds: 0 }, { pulse: 1, seconds: 0.5 }], 0.5, 2) // => [{ pulse: 1, seconds: 2 }]
 */
export const clocksFrom = (
  pulses: readonly ClockPulse[],
  from: Seconds,
  lead: Seconds,
): readonly ClockPulse[] =>
  pulses
    .filter(({ seconds }) => seconds >= from - 1e-6)
    .map(({ pulse, seconds }) => ({ pulse, seconds: seconds - from + lead }));
