import { describe, expect, it } from 'vitest';
import { firstPlan } from '../../core/plan/plan.ts';
import { type Come, FIRST_STEPS, firstStep } from '../../renderer/desk/firstStep.ts';
import { FIRST_STEP_WORDS, HELP, PLACES_IN_WORDS } from '../../renderer/views/help/helpWords.ts';

const START: Come = { strikes: 0, piece: undefined, view: 'play', isKept: false };

describe('the first steps', () => {
  it('ask for what comes next, and for nothing twice', () => {
    const way: readonly Partial<Come>[] = [
      {},
      { strikes: 1 },
      { strikes: 1, piece: {}, view: 'write' },
      { strikes: 1, piece: {}, view: 'grow' },
      { strikes: 1, piece: { plan: firstPlan('xylophone', 90) }, view: 'grow' },
    ];
    expect(way.map(come => firstStep({ ...START, ...come }))).toEqual([...FIRST_STEPS]);
    expect(firstStep({ ...START, strikes: 1, piece: {}, view: 'keep', isKept: true })).toBeUndefined();
  });

  it('take what was done without them as done: an opened file was struck somewhere else', () => {
    expect(firstStep({ ...START, piece: {}, view: 'write' })).toBe('write');
    // Gone back to Play with a page on the desk: the page is next, not another catch.
    expect(firstStep({ ...START, strikes: 3, piece: {}, view: 'play' })).toBe('write');
    expect(firstStep({ ...START, piece: {}, view: 'keep' })).toBe('grow');
  });
});

describe('the words of help', () => {
  const all = [
    ...Object.values(HELP),
    ...Object.values(FIRST_STEP_WORDS),
    ...PLACES_IN_WORDS.map(p => p.words),
  ];

  it('are whole sentences, short enough to be read in passing', () => {
    for (const words of all) {
      expect(words).toMatch(/^[A-Z].*\.$/);
      // 200 characters are about twelve seconds of reading (common practice for subtitles, from memory).
      expect(words.length).toBeLessThanOrEqual(200);
    }
    expect(new Set(all).size).toBe(all.length);
  });

  it('lead in at most five sentences, one line each on the smallest screen', () => {
    expect(FIRST_STEPS.length).toBeLessThanOrEqual(5);
    for (const step of FIRST_STEPS) {
      expect(FIRST_STEP_WORDS[step].match(/\.(\s|$)/g)).toHaveLength(1);
      expect(FIRST_STEP_WORDS[step].length).toBeLessThanOrEqual(110);
    }
  });
});
