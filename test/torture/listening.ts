import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { createClapEar } from '../../core/hearing/clapEar.ts';
import { createEar, type Ear } from '../../core/hearing/ear.ts';
import type { Recording } from '../../core/hearing/readWav.ts';
import { soundOfClaps } from '../hearing/clapping.ts';
import { recordedPhrase } from '../hearing/recorded.ts';

/** What an ear did in a long time. */
export interface ListeningReport {
  readonly ear: string;
  readonly minutes: number;
  /** Strikes told in each minute but the first, in which the room is heard first. */
  readonly perMinute: readonly number[];
  readonly struckPerMinute: number;
  /** Megabytes in use after the garbage went, at each minute. */
  readonly heap: readonly number[];
}

const MINUTE = 60;

/** Bytes in use when what nobody needs is gone. */
const heapNow = (): number => {
  setFlagsFromString('--expose_gc');
  (runInNewContext('gc') as () => void)();
  return process.memoryUsage().heapUsed + process.memoryUsage().arrayBuffers;
};

const listen = (
  name: string,
  ear: Ear,
  minute: Recording,
  struck: number,
  minutes: number,
): ListeningReport => {
  const perMinute: number[] = [];
  const heap: number[] = [];
  for (let m = 0; m < minutes; m++) {
    let told = 0;
    for (let from = 0; from < minute.samples.length; from += 256)
      told += ear.hear(minute.samples.subarray(from, from + 256)).struck.length;
    perMinute.push(told);
    heap.push(heapNow() / 1e6);
  }
  return { ear: name, minutes, perMinute: perMinute.slice(1), struckPerMinute: struck, heap };
};

/** Lets both ears listen for so long to the same minute over and over: fifteen strikes each, or thirty claps. */
export const listenLong = (minutes: number): readonly ListeningReport[] => {
  const rate = 22_050;
  const bars = Array.from({ length: 15 }, (_, i) => ({
    at: 2 + i * 3.7,
    midi: 77 + ((i * 5) % 12),
    velocity: 90,
  }));
  const claps = Array.from({ length: 30 }, (_, i) => ({ at: 1 + i * 1.9, velocity: 70 + ((i * 37) % 50) }));
  const asMinute = ({ rate: of, samples }: Recording): Recording => {
    const whole = new Float32Array(MINUTE * of);
    whole.set(samples.subarray(0, whole.length));
    return { rate: of, samples: whole };
  };
  const barMinute = asMinute(recordedPhrase(bars, 0.001));
  return [
    listen('bars', createEar(barMinute.rate), barMinute, bars.length, minutes),
    listen(
      'claps',
      createClapEar(rate),
      asMinute(soundOfClaps(claps, 'hands', { rate })),
      claps.length,
      minutes,
    ),
  ];
};
