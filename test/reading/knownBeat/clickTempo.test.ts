import { expect, test } from 'vitest';
import { clickCountedAt } from '../../../core/reading/knownBeat/clickTempo.ts';
import { readTake } from '../../../core/reading/read.ts';
import type { Take } from '../../../core/take/take.ts';

const beats = [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4];

test('a click is counted twice as fast or as slow where asked, and its first beat stays', () => {
  expect(clickCountedAt(beats, undefined)).toEqual(beats);
  expect(clickCountedAt(beats, 120)).toEqual(beats);
  expect(clickCountedAt(beats, 130)).toEqual(beats);
  expect(clickCountedAt(beats, 60)).toEqual([0, 1, 2, 3, 4]);
  expect(clickCountedAt([0, 0.5, 1], 240)).toEqual([0, 0.25, 0.5, 0.75, 1]);
  expect(clickCountedAt([0, 0.5], 30)).toEqual([0, 2]);
});

test('a phrase read at half the tempo has half the length on the page, and at double twice', () => {
  const take: Take = {
    id: 't',
    capturedAt: '',
    source: 'midi',
    from: 'pad',
    latency: 0,
    lengthsMean: false,
    click: { metre: { upper: 4, lower: 4 }, beats },
    strikes: [0, 0.5, 1, 1.5, 2].map(at => ({ at, pitch: 60, velocity: 80 })),
  };
  const onsets = (tempo?: number): number[] =>
    readTake(take, tempo === undefined ? {} : { tempo })[0]?.notes.map(n => n.onset.n / n.onset.d) ?? [];
  expect(onsets()).toEqual([0, 0.25, 0.5, 0.75, 1]);
  expect(onsets(60)).toEqual([0, 0.125, 0.25, 0.375, 0.5]);
  expect(onsets(240)).toEqual([0, 0.5, 1, 1.5, 2]);
});
