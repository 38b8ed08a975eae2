import { describe, expect, it } from 'vitest';
import type { ExpectedStroke } from '../../core/rehearse/expected.ts';
import { noticed, type PlayedStroke } from '../../core/rehearse/notice.ts';
import { kinds } from './scores.ts';

describe('what hands do', () => {
  const two = (a: Partial<ExpectedStroke>, b: Partial<ExpectedStroke>): readonly ExpectedStroke[] => {
    const base = {
      part: 'p1',
      ref: 's1:0:0',
      bar: 0,
      place: 0,
      seconds: 1,
      lasts: 0.5,
      pitch: 60,
      isGrace: false,
      pass: 0,
    };
    return [
      { ...base, ...a },
      { ...base, ...b },
    ];
  };
  const blow = (at: number, pitch: number): PlayedStroke => ({ at, pitch, velocity: 90 });

  it('the two bars of a chord may come in either order', () => {
    const chord = two({}, { pitch: 64 });
    expect(kinds(noticed(chord, [blow(1.02, 60), blow(0.99, 64)]))).toEqual({ 'in place': 2 });
    expect(kinds(noticed(chord, [blow(0.99, 60), blow(1.08, 64)]))).toEqual({ 'in place': 1, late: 1 });
  });

  it('two quick notes that change places are one late and one early', () => {
    const quick = two({ seconds: 1 }, { seconds: 1.1, pitch: 62 });
    expect(kinds(noticed(quick, [blow(1.1, 60), blow(1, 62)]))).toEqual({ late: 1, early: 1 });
  });

  it('a roll on a long note is that note; one more blow alone is one more', () => {
    const [long] = two({ lasts: 1 }, {});
    const roll = Array.from({ length: 8 }, (_, i) => blow(1 + i * 0.11, 60));
    expect(kinds(noticed([long as ExpectedStroke], roll))).toEqual({ 'in place': 1 });
    expect(kinds(noticed([long as ExpectedStroke], roll.slice(0, 2)))).toEqual({ 'in place': 1, added: 1 });
    // Too slow for a roll: struck three times where one is written.
    const slow = [0, 0.3, 0.6].map(after => blow(1 + after, 60));
    expect(kinds(noticed([long as ExpectedStroke], slow))).toEqual({ 'in place': 1, added: 2 });
    // Beyond the note's end it is no roll of it any more.
    expect(kinds(noticed([long as ExpectedStroke], [...roll, blow(2.9, 60)]))).toEqual({
      'in place': 1,
      added: 1,
    });
  });

  it('blows at the slowest pace of a roll, to the very end of the note, are that note', () => {
    const [note] = two({ seconds: 0, lasts: 0.4 }, {});
    expect(
      kinds(
        noticed(
          [note as ExpectedStroke],
          [0, 0.2, 0.4].map(at => blow(at, 60)),
        ),
      ),
    ).toEqual({
      'in place': 1,
    });
  });

  it('of two other bars the nearer one was meant; much later is further off than a third away', () => {
    const [wanted] = two({}, {});
    const meant = (...blows: PlayedStroke[]): number | undefined =>
      noticed([wanted as ExpectedStroke], blows).flatMap(one =>
        one.kind === 'other bar' ? [one.played.pitch] : [],
      )[0];
    expect(meant(blow(1, 61), blow(1, 70))).toBe(61);
    expect(meant(blow(1, 63), blow(1.14, 61))).toBe(63);
  });

  it("the mallet's bounce is no stroke", () => {
    const [one] = two({}, {});
    expect(kinds(noticed([one as ExpectedStroke], [blow(1, 60), blow(1.025, 60)]))).toEqual({
      'in place': 1,
    });
  });

  it('a grace note is played or not, and never late', () => {
    const grace = two({ seconds: 0.955, pitch: 62, isGrace: true, lasts: 0.045 }, {});
    expect(kinds(noticed(grace, [blow(0.87, 62), blow(1, 60)]))).toEqual({ 'in place': 2 });
    expect(kinds(noticed(grace, [blow(1, 60)]))).toEqual({ 'in place': 1 });
  });

  it('what was still to come when it was stopped was not left out', () => {
    const expected = two({ seconds: 0 }, { seconds: 3 });
    expect(kinds(noticed(expected, [blow(0, 60)], 1))).toEqual({ 'in place': 1 });
    expect(kinds(noticed(expected, [blow(0, 60)], 3.5))).toEqual({ 'in place': 1, 'left out': 1 });
    // An answer may come up to 0.3 s late: from then on nothing is still to come.
    const [first] = two({ seconds: 0.7 }, {});
    expect(kinds(noticed([first as ExpectedStroke], [], 1))).toEqual({ 'left out': 1 });
    expect(kinds(noticed([first as ExpectedStroke], [], 0.99))).toEqual({});
  });
});
