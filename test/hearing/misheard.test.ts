import { describe, expect, it } from 'vitest';
import type { PitchBands } from '../../core/hearing/bands.ts';
import type { Blow } from '../../core/hearing/blow.ts';
import { onRightBars } from '../../core/hearing/misheard.ts';
import { bandsOf, HOP } from './quarterToneBands.ts';

const LOOKS = 1200;
const STILL = 0.001;
/** What becomes how loud in a band from a moment on, for a third of a second. */
type Swell = readonly [band: number, at: number, loudness: number];

/** Of these bands what is new is what is louder or softer. */
const bandsWith = (swells: readonly Swell[]): PitchBands =>
  bandsOf(LOOKS, (band, at) =>
    Math.max(
      STILL,
      ...swells
        .filter(([swelling, from]) => swelling === band && at >= from && at < from + 0.33)
        .map(([, , loudness]) => loudness),
    ),
  );
const blow = (band: number, at: number, touched = true): Blow => {
  const contact = { at, look: Math.round(at / HOP), loudness: 0.01, rise: 12 };
  return { band, at, rose: at, loudness: 0.05, ...(touched ? { contact } : {}) };
};
/** A room as loud as `loudness` about a band, where a bar would be held against it. */
const around = (band: number, at: number, loudness: number): readonly Swell[] =>
  [-11, -10, -9, -8, -7, -6, -5, 5, 6, 7, 8, 9, 10, 11].map(d => [band + d, at, loudness]);
const on = (swells: readonly Swell[], blows: readonly Blow[], earlier: readonly Blow[] = []) =>
  onRightBars(bandsWith(swells), blows, earlier).map(({ band, otherwise }) => [band, otherwise]);

/** C5, the third mode of a tuned bar over it (six times the frequency, 31 semitones), and a bar between. */
const [BAR, MODE, BETWEEN] = [54, 54 + 62, 64];
const both = [0.5, 1].flatMap((at): Swell[] => [
  [BAR, at, 0.05],
  [MODE, at, 0.08],
]);
const between = [1.5, 2].map((at): Swell => [BETWEEN, at, 0.05]);
const known = [blow(BAR, 0.5), blow(BAR, 1), blow(BETWEEN, 1.5), blow(BETWEEN, 2)];
const lone: Swell = [MODE, 2.5, 0.08];

describe('a blow of which only a mode stands out', () => {
  const heard = (more: readonly Swell[], blows = known) =>
    on([...both, ...between, ...more], [...blows, blow(MODE, 2.5)]).at(-1);

  it('is on the bar with which that mode always sounds, which swelled a little now', () => {
    expect(heard([lone, [BAR, 2.5, 0.015]])).toEqual([BAR, undefined]);
    // 13 dB under its usual blow, and no more.
    expect(heard([lone, [BAR, 2.5, 0.005]])).toEqual([MODE, undefined]);
  });

  it('stays where the bar was struck without it, or less often than it, or is itself far from the others', () => {
    const silent = known.map(one => (one.band === BAR ? blow(BAR, one.at + 0.2) : one));
    expect(heard([lone, [BAR, 2.5, 0.015]], silent)).toEqual([MODE, undefined]);
    const twice: readonly Swell[] = [lone, [MODE, 2, 0.08], [MODE, 1.5, 0.08], [BAR, 2.5, 0.015]];
    const often = [...known, blow(MODE, 1.5), blow(MODE, 2)];
    expect(heard(twice, often)).toEqual([MODE, undefined]);
    const high = [blow(BAR, 0.5), blow(BAR, 1), ...[1.2, 1.5, 1.8, 2].map(at => blow(MODE + 4, at))];
    expect(heard([lone, [BAR, 2.5, 0.015]], high)?.[0]).toBe(MODE);
  });

  it('stays where the bar was struck, too', () => {
    const two = on(
      [...both, ...between, lone, [BAR, 2.5, 0.05]],
      [...known, blow(BAR, 2.5), blow(MODE, 2.5)],
    );
    expect(two.slice(-2)).toEqual([
      [BAR, undefined],
      [MODE, undefined],
    ]);
  });

  it('and is known by what was heard before, where the ear keeps only the end', () => {
    const swells = [...both, ...between, lone, [BAR, 2.5, 0.015] as const];
    expect(on(swells, [blow(MODE, 2.5)], known)).toEqual([[BAR, undefined]]);
    expect(on(swells, [blow(MODE, 2.5)])).toEqual([[MODE, undefined]]);
  });
});

describe('a voice that swells two octaves under a bar', () => {
  const [HIGH, VOICE] = [86, 32];
  const struck = [0.5, 1, 1.5].map((at): Swell => [HIGH, at, 0.05]);
  const before = [0.5, 1, 1.5].map(at => blow(HIGH, at));
  const heard = (more: readonly Swell[], touched = true) =>
    on([...struck, [VOICE, 2, 0.05], ...more], [...before, blow(VOICE, 2, touched)]).at(-1);
  const room = around(VOICE, 2, 0.03);
  const now: Swell = [HIGH, 2, 0.05];

  it('does not take the blow from it: the bar is new, and stands out as no voice does', () => {
    expect(heard([now, ...room])).toEqual([HIGH, undefined]);
  });

  it('is a bar where it stands out itself, or no mallet is heard, or the one above is hardly new', () => {
    expect(heard([now])?.[0]).toBe(VOICE);
    expect(heard([now, ...room], false)?.[0]).toBe(VOICE);
    expect(heard([[HIGH, 2, 0.02], ...room])?.[0]).toBe(VOICE);
    expect(heard([now, ...room, ...around(HIGH, 2, 0.01)])?.[0]).toBe(VOICE);
  });

  it('is none either far from the other bars, as long as the one above is struck more often', () => {
    const low = [2.4, 2.7, 3, 3.2].map((at): Swell => [VOICE + 8, at, 0.05]);
    const of = (times: number) =>
      on(
        [...struck.slice(0, times), ...low, now, [VOICE, 2, 0.05], ...room],
        [...before.slice(0, times), ...low.map(([band, at]) => blow(band, at)), blow(VOICE, 2)],
      ).at(-1)?.[0];
    expect([of(1), of(2)]).toEqual([VOICE, HIGH]);
  });
});

describe('a bar that may be another of the take', () => {
  const OTHER = BAR + 8;
  const first: readonly Swell[] = [
    [BAR, 0.5, 0.05],
    [OTHER, 1, 0.05],
  ];
  const before = [blow(BAR, 0.5), blow(OTHER, 1)];
  const heard = (more: readonly Swell[], blows = [blow(BAR, 1.5)]) =>
    on([...first, ...more], [...before, ...blows]).at(-1);

  it('is in doubt where hardly less is new in that one', () => {
    expect(
      heard([
        [BAR, 1.5, 0.05],
        [OTHER, 1.5, 0.04],
      ]),
    ).toEqual([BAR, OTHER]);
    // 3 dB less beside its usual blow, and 9 dB under that.
    expect(
      heard([
        [BAR, 1.5, 0.05],
        [OTHER, 1.5, 0.03],
      ]),
    ).toEqual([BAR, undefined]);
    expect(
      heard([
        [BAR, 1.5, 0.015],
        [OTHER, 1.5, 0.015],
      ]),
    ).toEqual([BAR, undefined]);
  });

  it('is in none where that one was struck as well, or is damped just then, or hardly stands out', () => {
    const [mine, other]: Swell[] = [
      [BAR, 1.5, 0.05],
      [OTHER, 1.5, 0.05],
    ];
    if (mine === undefined || other === undefined) throw new Error('two swells');
    expect(heard([mine, other], [blow(OTHER, 1.5), blow(BAR, 1.5)])).toEqual([BAR, undefined]);
    const damped: readonly Swell[] = [
      [OTHER, 1.17, 0.05],
      [OTHER, 1.4, 0.008],
    ];
    expect(heard([mine, ...damped])).toEqual([BAR, undefined]);
    expect(heard([mine, other, ...around(OTHER, 1.5, 0.03)])).toEqual([BAR, undefined]);
    // Unless far more is new in it than where the blow was heard.
    expect(heard([[BAR, 1.5, 0.02], other, ...around(OTHER, 1.5, 0.03)])).toEqual([BAR, OTHER]);
  });

  it('is in none for its own mode', () => {
    const HIGH = BAR + 48;
    const swells = [0.5, 1, 1.5].flatMap((at): Swell[] => [
      [BAR, at, 0.05],
      [HIGH, at, 0.05],
    ]);
    const all = [...[0.5, 1, 1.5].map(at => blow(BAR, at)), blow(HIGH, 2)];
    expect(on([...swells, [HIGH, 2, 0.05]], all)).toEqual([
      [BAR, undefined],
      [BAR, undefined],
      [BAR, undefined],
      [HIGH, undefined],
    ]);
  });
});
