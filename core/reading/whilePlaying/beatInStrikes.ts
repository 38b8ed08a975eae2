import type { Strike, Take } from '../../take/take.ts';
import type { Reading } from '../model/reading.ts';
import { readTake } from '../read.ts';
import { STRAIGHT, type Swinging } from '../rhythm/swings.ts';
import { TICKS, toTicks } from '../search/lattice.ts';
import { ticksAt, type TimeMap } from '../search/timeMap.ts';
import { toNumber } from '../../foundation/fraction.ts';
import { type Metre, tactus } from '../../foundation/metre.ts';
import { SAME_BEAT, SURE_BEAT } from './constants.ts';
import type { WrittenBeat, WrittenMoment } from './soFar.ts';
import { writtenLine, writtenRoll } from './writtenRoll.ts';

/** A beat that is sure, with what is written on it. */
export interface SureBeat {
  readonly beat: WrittenBeat;
  readonly moments: readonly WrittenMoment[];
}

/** Strikes as a take without a click; its times stay those of the strikes. */
export const takeOfStrikes = (strikes: readonly Strike[]): Take => ({
  id: '',
  capturedAt: '',
  source: 'mixed',
  from: '',
  latency: 0,
  lengthsMean: false,
  strikes,
});

const beatMap = (reading: Reading): TimeMap => ({
  beats: Float64Array.from(reading.beats),
  step: stepOf(reading),
  zero: reading.firstBeat,
});

const stepOf = (reading: Reading): number => Math.round(toNumber(tactus(reading.metre)) * TICKS);

/** Whether two readings hear one beat: at every strike they count alike, wherever they begin to count. */
const isOneBeat = (a: Reading, b: Reading, strikes: readonly Strike[]): boolean => {
  const [one, other] = [beatMap(a), beatMap(b)];
  const apart = strikes.map(s => ticksAt(one, s.at) / one.step - ticksAt(other, s.at) / other.step);
  const whole = Math.round(apart[0] ?? 0);
  return apart.every(x => Math.abs(x - whole) < SAME_BEAT);
};

/** How sure the first reading's beat is: the confidence of all readings on it, 0 to 1. */
export const surenessOfBeat = (readings: readonly Reading[], strikes: readonly Strike[]): number => {
  const [best] = readings;
  if (best === undefined) return 0;
  return readings
    .filter(r => r === best || isOneBeat(best, r, strikes))
    .reduce((so, r) => so + r.confidence, 0);
};

/**
 * The beat of a phrase without a click, once it is sure.
 * @param strikes the last of the phrase, lateness taken off
 * @param metre that was chosen, if any
 * @returns undefined while it is not
 * @example beatInStrikes([]) // => undefined
 */
export const beatInStrikes = (strikes: readonly Strike[], metre?: Metre): SureBeat | undefined => {
  const readings = readTake(takeOfStrikes(strikes), metre === undefined ? {} : { metre });
  const [best] = readings;
  if (best === undefined || surenessOfBeat(readings, strikes) < SURE_BEAT) return undefined;
  return {
    beat: {
      metre: best.metre,
      beats: best.beats,
      zero: best.firstBeat,
      step: stepOf(best),
      swing: swingOf(best),
    },
    moments: momentsOfReading(best, strikes),
  };
};

const swingOf = ({ swing }: Reading): Swinging =>
  swing === undefined
    ? STRAIGHT
    : { ratio: swing.ratio, of: toTicks(swing.unit) === TICKS / 8 ? 'half' : 'quarter', cost: 0 };

const momentsOfReading = (reading: Reading, strikes: readonly Strike[]): WrittenMoment[] => {
  const moments = new Map<number, WrittenMoment['struck'][number][]>();
  for (const note of reading.notes) {
    const strike = strikes[note.strike];
    if (strike === undefined) continue;
    const tick = toTicks(note.onset);
    const { at, pitch } = strike;
    const graces =
      note.grace === undefined ? {} : { graces: [...(note.ruff ?? []), note.grace].map(g => g.pitch) };
    const struck = {
      at,
      pitch,
      ...graces,
      ...writtenRoll(note.roll, strikes),
      ...writtenLine(note.gliss, strikes),
    };
    moments.set(tick, [...(moments.get(tick) ?? []), struck]);
  }
  return [...moments].map(([tick, struck]) => ({ tick, struck }));
};
