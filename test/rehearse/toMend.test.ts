import { describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { accompanied } from '../../core/rehearse/accompanied.ts';
import { expectedStrokes, overAndOver } from '../../core/rehearse/expected.ts';
import { noticed, type PlayedStroke } from '../../core/rehearse/notice.ts';
import { ofPass, pageAt, timesThrough } from '../../core/rehearse/passes.ts';
import { barsToMend, lateAlike, said } from '../../core/rehearse/toMend.ts';
import { ALL, canonOf, exactly, ideaOf, scoreOf } from './scores.ts';

const CROTCHETS = ideaOf([
  [2, 0],
  [2, 1],
  [2, 2],
  [2, 3],
]);
const score = canonOf(CROTCHETS);
const what = { part: 'p1', bars: ALL, speed: 1 };
const expected = expectedStrokes(score, what);
const barAt = (at: number): number => pageAt(score, ALL, 1)(at).bar;
const told = (played: readonly PlayedStroke[]): ReturnType<typeof said> =>
  said(score, expected, noticed(expected, played), barAt);
const moved = (by: number, ...which: number[]): readonly PlayedStroke[] =>
  exactly(expected).map((s, i) => (which.includes(i) ? { ...s, at: s.at + by } : s));

describe('a plain sentence, and the bar to practise', () => {
  it.each<[string, readonly PlayedStroke[], string, number | undefined]>([
    ['all', exactly(expected), 'Every stroke was in its place.', undefined],
    ['one late', moved(0.08, 9), 'Bar 3: one stroke late. All else was in its place.', 2],
    [
      'two bars',
      moved(0.08, 1, 12, 13).filter((_, i) => i !== 14),
      'Bar 4 has most to mend: two strokes late and one left out.',
      3,
    ],
    ['alike: the earlier', moved(-0.08, 5, 9), 'Bar 2 has most to mend: one stroke early.', 1],
    [
      'too much, in a silence after the strokes',
      [...exactly(expected), { at: 7.8, pitch: 66, velocity: 90 }],
      'Bar 4: one stroke more than written. All else was in its place.',
      3,
    ],
    ['nothing', [], 'Nothing was struck. Play along, or listen first.', undefined],
  ])('%s', (_, played, sentence, practise) => {
    expect(told(played)).toEqual({ sentence, practise });
  });

  it('an upbeat is called by its name', () => {
    const idea = ideaOf([
      [2, 4],
      [2, 0],
      [2, 1],
      [2, 2],
      [2, 3],
    ]);
    const upbeat = fraction(1, 4);
    const motif = {
      ...idea,
      upbeat,
      notes: idea.notes.map(n => ({ ...n, onset: fraction(n.onset.n * 4 - n.onset.d, n.onset.d * 4) })),
    };
    const own = scoreOf(motif);
    const strokes = expectedStrokes(own, what);
    const late = exactly(strokes).map((s, i) => (i === 0 ? { ...s, at: s.at + 0.08 } : s));
    const sentence = said(own, strokes, noticed(strokes, late), () => 0);
    expect(sentence).toEqual({
      sentence: 'The upbeat: one stroke late. All else was in its place.',
      practise: 0,
    });
  });

  it('a blow in a bar of rests is of that bar', () => {
    const rests = ideaOf([
      [8, 0],
      [-8, 0],
      [8, 0],
    ]);
    const own = scoreOf(rests);
    const strokes = expectedStrokes(own, what);
    const all = noticed(strokes, [...exactly(strokes), { at: 3, pitch: 70, velocity: 90 }]);
    const places = pageAt(own, ALL, 1);
    expect(barsToMend(all, at => places(at).bar).map(b => b.bar)).toEqual([1]);
  });

  it('late alike is the device; late now and then is the player', () => {
    expect(lateAlike(noticed(expected, moved(0.07, ...expected.keys())))).toBe(70);
    expect(lateAlike(noticed(expected, moved(0.07, 1, 5)))).toBeUndefined();
    expect(lateAlike(noticed(expected, exactly(expected)))).toBeUndefined();
  });
});

describe('several times through', () => {
  it('each time is told by itself', () => {
    const bars = { first: 1, last: 1 };
    const once = expectedStrokes(score, { part: 'p1', bars, speed: 0.5 });
    const all = overAndOver(once, 3, 4);
    const played = exactly(all).map((s, i) => (i === 5 ? { ...s, at: s.at + 0.1 } : s));
    const found = noticed(all, [...played, { at: 9.5, pitch: 80, velocity: 90 }]);
    const kinds = [0, 1, 2].map(k =>
      ofPass(found, k, 4)
        .map(one => one.kind)
        .filter(k => k !== 'in place'),
    );
    expect(kinds).toEqual([[], ['late'], ['added']]);
    expect(pageAt(score, bars, 0.5)(9.5)).toEqual({ place: 1.375, bar: 1 });
    expect(timesThrough(9.5, 4)).toEqual({ begun: 3, whole: 2 });
  });
});

describe('what sounds with it', () => {
  const ask = {
    parts: ['p1'],
    own: 'left out',
    bars: { first: 1, last: 2 },
    loop: true,
    click: true,
  } as const;
  const partsIn = (own: 'left out' | 'as written' | 'louder' | 'alone'): string =>
    [...new Set(accompanied(score, { ...ask, own }).performance.events.map(e => e.part))].sort().join();
  it('own part left out, alone, or with the others', () => {
    expect([partsIn('left out'), partsIn('alone'), partsIn('as written')]).toEqual(['p2', 'p1', 'p1,p2']);
    const balance = (part: string): (number | undefined)[] =>
      accompanied(score, { ...ask, own: 'louder' })
        .performance.events.filter(e => e.part === part)
        .map(e => e.balance);
    expect(new Set(balance('p1'))).toEqual(new Set([6]));
    expect(new Set(balance('p2'))).toEqual(new Set([undefined]));
  });

  it('always counted in; the click goes on only where it is wanted; the loop leaves the count out', () => {
    const { click, lead, loop, length } = accompanied(score, ask);
    expect([lead, length, loop]).toEqual([2, 4, { from: 2, to: 6 }]);
    expect(click.beats).toEqual([0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5]);
    expect(accompanied(score, { ...ask, click: false }).click.beats).toEqual([0, 0.5, 1, 1.5]);
  });
});
