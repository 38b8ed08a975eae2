import { performance } from 'node:perf_hooks';
import { metre } from '../../core/foundation/metre.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Hints } from '../../core/reading/model/reading.ts';
import { writeOn } from '../../core/reading/whilePlaying/writeOn.ts';
import type { Take } from '../../core/take/take.ts';
import { ms, printTable } from './figures.ts';
import { asPlayed } from '../reading/whilePlaying/asPlayed.ts';
import { place, played, places } from '../takes/written.ts';

/** Plays a two-bar idea of ten strikes over so many bars; each time with other pitches, so that nothing is read together. */
const takeOf = (bars: number, click: boolean, repeating: boolean): Take => {
  const idea = [0, 0.75, 1.5, 2, 3, 4, 4.5, 5.5, 6, 7];
  const at = Array.from({ length: bars / 2 }, (_, b) => idea.map(x => x + 8 * b)).flat();
  const off = at.map((_, i) => ((i * 7919) % 61) - 30);
  const pitch = at.map((_, i) => (repeating ? 60 + (((i % 10) * 5) % 12) : 60 + ((i * i * 31 + i * 7) % 19)));
  return played({ at, off, pitch, click, tempo: 96, metre: metre(4, 4) });
};

/** Every strike on the nearest semiquaver: what the reader is compared with. */
const rounded = (take: Take): number[] => {
  const beats = take.click?.beats ?? [];
  const [first = 0, second = 1] = beats;
  return take.strikes.map(s => Math.round(((s.at - first) / (second - first)) * 4) / 4);
};

/** Milliseconds: middle, 95th of a hundred, most. */
const timed = (runs: number, work: () => unknown): readonly [number, number, number] => {
  for (let i = 0; i < 3; i++) work();
  const spent = Array.from({ length: runs }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  }).sort((a, b) => a - b);
  const at = (share: number): number => spent[Math.min(runs - 1, Math.floor(share * runs))] ?? Number.NaN;
  return [at(0.5), at(0.95), at(1)];
};

/** A row of numbers in -1 to 1 that is the same everywhere. */
const rowOf = (seed: number): (() => number) => {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1103515245) + 12345) & 0x7fffffff;
    return state / 0x3fffffff - 1;
  };
};

/** Invented phrases of two bars, some with triplets, some swung, played with about 25 ms of spread. */
const phrases = (): { readonly at: readonly number[]; readonly take: Take }[] =>
  Array.from({ length: 100 }, (_, p) => {
    const next = rowOf(7919 * (p + 1));
    const beats: readonly (readonly number[])[] =
      p % 4 === 3
        ? [[0], [0, 0.5], [0, 1 / 3, 2 / 3], [0, 0.5]]
        : p % 4 === 2
          ? [[0, 0.5], [0], [0.5], [0, 0.5]]
          : [[0, 0.75], [0, 0.5], [0.5], [0, 0.25, 0.5], [0], [0, 0.5, 0.75]];
    const at = Array.from({ length: 8 }, (_, b) => {
      const which = Math.floor(((next() + 1) / 2) * beats.length) % beats.length;
      return (beats[b === 0 ? 0 : which] ?? [0]).map(x => b + x);
    }).flat();
    // The sum of three even throws of +-25 ms has a spread of 25 ms.
    const off = at.map(() => 25 * (next() + next() + next()));
    const swing = p % 4 === 2 ? 0.64 : 0.5;
    return {
      at,
      take: played({
        at,
        off,
        swing,
        tempo: 80 + 10 * (p % 5),
        pitch: at.map((_, i) => 60 + ((i * 5) % 12)),
      }),
    };
  });

const same = (a: readonly number[], b: readonly number[]): boolean =>
  a.length === b.length && a.every((x, i) => Math.abs(x - (b[i] ?? Number.NaN)) < 1e-6);

const ratio = (a: number, b: number): string => (a / b < 100 ? (a / b).toFixed(1) : (a / b).toFixed(0));

/** What each strike takes while a take is played: the beat sought, at the strikes at which it is; then written on. */
const whilePlaying = (name: string, take: Take): readonly (readonly string[])[] => {
  const spent = { sought: [] as number[], written: [] as number[] };
  for (let run = 0; run < 3; run++) {
    for (const list of Object.values(spent)) list.length = 0;
    asPlayed(take, (before, heard) => {
      const start = performance.now();
      const so = writeOn(before, heard);
      const took = performance.now() - start;
      if (before?.beat !== undefined) spent.written.push(took);
      else if (so.soughtTo !== before?.soughtTo && so.soughtTo > -Infinity) spent.sought.push(took);
      return so;
    });
  }
  return Object.entries(spent).flatMap(([what, all]) => {
    all.sort((a, b) => a - b);
    const at = (share: number): string =>
      ms(all[Math.min(all.length - 1, Math.floor(share * all.length))] ?? NaN);
    return all.length === 0 ? [] : [[`${name}, ${what}`, String(all.length), at(0.5), at(0.95), at(1)]];
  });
};

/** Prints how long reading takes, how that grows, and what plain rounding does in its place. */
export const reading = (): Promise<void> => {
  const rows: readonly (readonly [string, Take, Hints, number])[] = [
    ['8 bars with a click', takeOf(8, true, false), {}, 25],
    ['8 bars with a click, an idea played four times', takeOf(8, true, true), {}, 25],
    [
      '8 bars with a click, read again after a pin',
      takeOf(8, true, false),
      { pins: [{ strike: 7, onset: place(5.5) }] },
      25,
    ],
    ['8 bars without a click', takeOf(8, false, false), {}, 15],
    ['8 bars without a click, an idea played four times', takeOf(8, false, true), {}, 15],
  ];
  printTable(
    ['reading', 'strikes', 'median ms', '95 %', 'most'],
    rows.map(([name, take, hints, runs]) => [
      name,
      String(take.strikes.length),
      ...timed(runs, () => readTake(take, hints)).map(ms),
    ]),
  );

  console.log('\n  while somebody plays: ms a strike in the thread (the budget is 8)');
  printTable(
    ['64 bars, written on', 'strikes', 'median ms', '95 %', 'most'],
    [
      ...whilePlaying('to a click', takeOf(64, true, false)),
      ...whilePlaying('without a click', takeOf(64, false, true)),
    ],
  );

  console.log('\n  growth: median ms, and how many times the row above (2.0 is linear)');
  let before: readonly [number, number] | undefined;
  const growth = [8, 16, 32, 64, 128, 256].map(bars => {
    const [click] = timed(bars > 64 ? 5 : 9, () => readTake(takeOf(bars, true, false)));
    const [free] = timed(bars > 64 ? 3 : 7, () => readTake(takeOf(bars, false, false)));
    const row = [
      String(bars),
      ms(click),
      before === undefined ? '' : ratio(click, before[0]),
      ms(free),
      before === undefined ? '' : ratio(free, before[1]),
    ];
    before = [click, free];
    return row;
  });
  printTable(['bars', 'with a click', 'times', 'without', 'times'], growth);

  const all = phrases();
  const [plain] = timed(9, () => all.map(p => rounded(p.take)));
  const [read] = timed(3, () => all.map(p => readTake(p.take)));
  const right = (of: (take: Take) => readonly number[]): string =>
    `${String(all.filter(p => same(of(p.take), p.at)).length)} %`;
  console.log('\n  beside plain rounding: 100 invented two-bar phrases with a click');
  printTable(
    ['', 'ms a phrase', 'times', 'phrases right'],
    [
      ['nearest semiquaver', ms(plain / all.length), '1', right(rounded)],
      ['the reader', ms(read / all.length), ratio(read, plain), right(take => places(readTake(take)[0]))],
    ],
  );
  return Promise.resolve();
};
