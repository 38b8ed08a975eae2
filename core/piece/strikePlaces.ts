import { toNumber } from '../foundation/fraction.ts';
import { beatLengths } from '../foundation/metre.ts';
import type { Reading } from '../reading/reading.ts';
import type { Take } from '../take/take.ts';

/**
 * Where each strike really fell, in semibreves from the first barline, by the beats of a reading:
 * straight lines between beats, and the nearest beat's pace before the first and after the last.
 * One number per strike of the take.
 */
export const strikePlaces = (take: Take, reading: Reading): readonly number[] => {
  const { beats, firstBeat } = reading;
  const lengths = beatLengths(reading.metre).map(toNumber);
  const starts: number[] = [0];
  for (let i = 0; i < beats.length - firstBeat; i++) {
    starts.push((starts.at(-1) ?? 0) + (lengths[i % lengths.length] ?? 0.25));
  }
  const placeOfBeat = (index: number): number => {
    const from = index - firstBeat;
    if (from >= 0) return starts[from] ?? starts.at(-1) ?? 0;
    let place = 0;
    for (let i = -1; i >= from; i--)
      place -= lengths[((i % lengths.length) + lengths.length) % lengths.length] ?? 0.25;
    return place;
  };
  return take.strikes.map(strike => {
    const at = strike.at - take.latency / 1000;
    let k = 0;
    while (k < beats.length - 2 && (beats[k + 1] ?? Infinity) <= at) k++;
    const from = beats[k] ?? 0;
    const to = beats[k + 1] ?? from + 0.5;
    const share = to > from ? (at - from) / (to - from) : 0;
    const a = placeOfBeat(k);
    return a + (placeOfBeat(k + 1) - a) * share;
  });
};
