import { performance } from 'node:perf_hooks';
import { metre } from '../../core/foundation/metre.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Hints } from '../../core/reading/reading.ts';
import type { Take } from '../../core/take/take.ts';
import { place, played } from '../takes/written.ts';

/** Plays a two-bar idea of ten strikes over so many bars; each time with other pitches, so that nothing is read together. */
const takeOf = (bars: number, click: boolean, repeating: boolean): Take => {
  const idea = [0, 0.75, 1.5, 2, 3, 4, 4.5, 5.5, 6, 7];
  const at = Array.from({ length: bars / 2 }, (_, b) => idea.map(x => x + 8 * b)).flat();
  const off = at.map((_, i) => ((i * 7919) % 61) - 30);
  const pitch = at.map((_, i) => (repeating ? 60 + (((i % 10) * 5) % 12) : 60 + ((i * i * 31 + i * 7) % 19)));
  return played({ at, off, pitch, click, tempo: 96, metre: metre(4, 4) });
};

const time = (name: string, take: Take, hints: Hints = {}, runs = 25): void => {
  for (let i = 0; i < 3; i++) readTake(take, hints);
  const spent = Array.from({ length: runs }, () => {
    const start = performance.now();
    readTake(take, hints);
    return performance.now() - start;
  }).sort((a, b) => a - b);
  const at = (share: number): string =>
    (spent[Math.min(runs - 1, Math.floor(share * runs))] ?? 0).toFixed(1).padStart(9);
  console.log(name.padEnd(44), String(take.strikes.length).padStart(7), at(0.5), at(0.95), at(1));
};

/** Prints how long reading takes, in milliseconds. */
export const reading = (): Promise<void> => {
  console.log('reading'.padEnd(44), 'strikes', '   median', '    95 %', '     most');
  time('8 bars with a click', takeOf(8, true, false));
  time('8 bars with a click, an idea played four times', takeOf(8, true, true));
  time('8 bars with a click, re-read after a pin', takeOf(8, true, false), {
    pins: [{ strike: 7, onset: place(5.5) }],
  });
  time('8 bars without a click', takeOf(8, false, false), {}, 10);
  for (const bars of [32, 64, 128, 256])
    time(`${String(bars)} bars with a click`, takeOf(bars, true, false), {}, 5);
  return Promise.resolve();
};
