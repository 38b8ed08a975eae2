import { describe, expect, it } from 'vitest';
import { add, toNumber } from '../../../core/foundation/fraction.ts';
import { tactus } from '../../../core/foundation/metre.ts';
import { pageAfter, withPins, withRepeats } from '../../../core/piece/rereading.ts';
import type { Reading } from '../../../core/reading/model/reading.ts';
import { readTake } from '../../../core/reading/read.ts';
import { pageSoFar } from '../../../core/reading/whilePlaying/pageSoFar.ts';
import { playedOn, sameIdea } from '../../../core/take/onceMore.ts';
import { place } from '../../takes/written.ts';
import { asText } from './asText.ts';
import { asPlayed } from '../whilePlaying/asPlayed.ts';
import { type GoldenTake, goldenTake } from './goldenTakes.ts';

/*
 * A net against changes that nobody meant: the readings of seeded, invented takes as they were when the file
 * beside this one was written. It says nothing about how good they are (quality.test.ts, the laws and the
 * development cases do); a reading here may well be wrong. After a wanted change of the reader, measure that
 * first, then write the file anew and look at what moved:
 *   npx vitest run test/reading/golden -u
 */

type Named = readonly [name: string, golden: GoldenTake];
const some = (...which: readonly number[]): readonly Named[] =>
  which.map(goldenTake).map(golden => [golden.name, golden]);
const TAKES = some(...Array.from({ length: 42 }, (_, k) => k).filter(k => k !== 23)); // 23 takes seconds

const textOf = (readings: readonly Reading[]): string => `\n${readings.map(asText).join('\n')}\n`;
const firstOf = ({ take, hints }: GoldenTake): Reading => {
  const [best] = readTake(take, hints);
  if (best === undefined) throw new Error('nothing was read');
  return best;
};

describe('readings of invented takes', () => {
  it.each(TAKES)('%s', (_, { take, hints }) => {
    expect(textOf(readTake(take, hints))).toMatchSnapshot();
  });
});

describe('pages after two notes were put elsewhere', () => {
  it.each(some(0, 1, 3, 8, 9, 12, 16, 20, 28, 32))('%s', (_, golden) => {
    const { take } = golden;
    let page = firstOf(golden);
    let { hints } = golden;
    for (const [strike, by] of [
      [3, 1 / 2],
      [5, -1 / 4],
    ] as const) {
      const note = page.notes.find(n => n.strike === strike);
      if (note === undefined) continue;
      const pin = { strike, onset: add(note.onset, place(by)) };
      hints = withPins({ take, hints, reading: page }, withRepeats(page, [pin]));
      page = pageAfter(page, true, hints, readTake(take, hints)) ?? page;
    }
    expect(textOf([page])).toMatchSnapshot();
  });
});

describe('two playings read together', () => {
  it.each(some(1, 4, 8, 15, 25))('%s', (_, golden) => {
    const page = firstOf(golden);
    const other = golden.take.strikes.map((s, i) => ({
      ...s,
      at: 40 + 1.1 * s.at + 0.012 * Math.sin(5 * i),
    }));
    const again = sameIdea(golden.take.strikes, other);
    if (again === undefined) throw new Error('another idea');
    const span = (page.period ?? 1) * (60 / page.tempo) * (page.metre.upper / page.metre.lower / toNumber(tactus(page.metre))); // prettier-ignore
    const both = playedOn(golden.take, { ...golden.take, id: 'other', strikes: other }, again, span);
    expect(textOf(readTake(both, golden.hints))).toMatchSnapshot();
  });
});

describe('pages that write themselves', () => {
  it.each(some(0, 2, 4, 5, 13, 14, 21, 24, 26, 36, 41))('%s', (_, { take }) => {
    const lines = asPlayed(take).map(({ so }) => {
      const page = pageSoFar(so);
      const shown = so.moments.filter(m => m.tick < so.upTo).slice(-6);
      const ticks = shown.map(m => `${String(m.tick)}${'+'.repeat(m.struck.length - 1)}`).join(' ');
      return page === undefined ? '-' : `${ticks} < ${String(so.upTo)}, ${page.tempo.toFixed(1)}`;
    });
    expect(`\n${lines.filter((line, i) => line !== lines[i - 1]).join('\n')}\n`).toMatchSnapshot();
  });
});
