import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ExpectedStroke, expectedStrokes } from '../../core/rehearse/expected.ts';
import { noticed, type PlayedStroke } from '../../core/rehearse/notice.ts';
import { said } from '../../core/rehearse/toMend.ts';
import { scoreOf } from '../gallery/situation.ts';
import { row } from '../gallery/situations/row.ts';

// How a glissando is judged has no source: common practice is that its line is drawn in the time of its note.
const kindsOf = (wanted: readonly ExpectedStroke[], all: readonly PlayedStroke[], until?: number): string[] =>
  noticed(wanted, all, until).map(one => one.kind);
const blow = (at: number, pitch: number): PlayedStroke => ({ at, pitch, velocity: 80 });

/** A glissando over naturals or both rows, up or down, with a note after it; how it is drawn. */
const anyLine = fc
  .record({
    bars: fc.integer({ min: 4, max: 14 }),
    up: fc.boolean(),
    step: fc.constantFrom(1, 2),
    lasts: fc.double({ min: 0.3, max: 2, noNaN: true }),
    share: fc.double({ min: 0.05, max: 0.98, noNaN: true }),
  })
  .map(({ bars, up, step, lasts, share }) => {
    const line = Array.from({ length: bars }, (_, i) => 72 + (up ? 1 : -1) * step * (i + 1));
    const base = { part: 'p1', ref: 'a', bar: 0, place: 0, isGrace: false, pass: 0 };
    const first: ExpectedStroke = { ...base, seconds: 1, lasts, pitch: 72, line };
    const next: ExpectedStroke = { ...base, seconds: 1 + lasts, lasts: 0.5, pitch: up ? 60 : 84 };
    const drawn = line.map((pitch, i) => blow(1 + ((i + 1) * lasts * share) / (bars + 1), pitch));
    return { wanted: [first, next], first, drawn, after: blow(1 + lasts, next.pitch) };
  });

describe('laws of a glissando that is rehearsed', () => {
  it('drawn within its note, fast or slow, on the bars of either row, it is in its place and nothing is added', () => {
    fc.assert(
      fc.property(anyLine, fc.boolean(), ({ wanted, drawn, after }, isTwice) => {
        const strokes = isTwice ? drawn.flatMap(b => [b, { ...b, at: b.at + 0.004 }]) : drawn;
        expect(kindsOf(wanted, [blow(1, 72), ...strokes, after])).toEqual(['in place', 'in place']);
      }),
    );
  });

  it('of which only the first stroke was struck, it is begun and not drawn; no other note hears of it', () => {
    fc.assert(
      fc.property(anyLine, ({ wanted, after }) => {
        expect(kindsOf(wanted, [blow(1, 72), after])).toEqual(['in place', 'cut short', 'in place']);
      }),
    );
  });

  it('drawn less than three quarters of its way it is cut short, and what was drawn is not added', () => {
    fc.assert(
      fc.property(anyLine, fc.nat(), ({ wanted, drawn, after }, which) => {
        const far = which % drawn.length;
        const expected =
          far / drawn.length < 0.75 ? ['in place', 'cut short', 'in place'] : ['in place', 'in place'];
        expect(kindsOf(wanted, [blow(1, 72), ...drawn.slice(0, far), after])).toEqual(expected);
      }),
    );
  });

  it('that leaps to its end left out the bars between', () => {
    fc.assert(
      fc.property(anyLine, ({ wanted, drawn, after }) => {
        expect(kindsOf(wanted, [blow(1, 72), ...drawn.slice(-1), after])).toEqual([
          'in place',
          'cut short',
          'in place',
        ]);
      }),
    );
  });

  it('begun late, its line is its own all the same', () => {
    fc.assert(
      fc.property(anyLine, ({ wanted, drawn, after }) => {
        const late = drawn.map(one => ({ ...one, at: one.at + 0.1 }));
        expect(kindsOf(wanted, [blow(1.1, 72), ...late, after])).toEqual(['late', 'in place']);
      }),
    );
  });

  it('begun on the next bar of its way, that one stroke is told as another bar, and nothing else', () => {
    fc.assert(
      fc.property(anyLine, ({ wanted, drawn, after }) => {
        const early = drawn.map((one, i) => ({ ...one, at: i === 0 ? 1 : one.at }));
        fc.pre(drawn.length > 4);
        expect(kindsOf(wanted, [...early, after])).toEqual(['other bar', 'in place']);
      }),
    );
  });

  it('struck with another is begun by a blow of its own: no blow is told twice', () => {
    fc.assert(
      fc.property(anyLine, ({ first, drawn }) => {
        const [step = 72, end = 72] = [first.line?.[0], first.line?.at(-1)];
        const other = { ...first, ref: 'b', pitch: first.pitch - Math.sign(end - step) };
        const told = noticed([first, other], drawn).flatMap(one => ('played' in one ? [one.played] : []));
        expect(told).toHaveLength(new Set(told).size);
      }),
    );
  });

  it('that was still under way when all was stopped was not cut short', () => {
    fc.assert(
      fc.property(anyLine, ({ wanted, first }) => {
        const end = first.seconds + first.lasts;
        expect(kindsOf(wanted, [blow(1, 72)], end + 0.29)).not.toContain('cut short');
        expect(kindsOf(wanted, [blow(1, 72)], end + 0.31)).toContain('cut short');
      }),
    );
  });
});

describe('what is said of it', () => {
  const notes = row('x', '', 'C5:1=C6 r1 E5:1 r1', '', '');
  const score = { ...scoreOf({ ...notes, instruments: ['marimba' as const] }), tempo: 60 };
  const wanted = expectedStrokes(score, { part: 'p1', bars: { first: 0, last: 0 }, speed: 1 });
  const saidOf = (...all: PlayedStroke[]): string =>
    said(score, wanted, noticed(wanted, all), () => 0).sentence;

  it('is what is still to be done, beside what else was noticed', () => {
    expect(saidOf(blow(0, 72), blow(2, 76))).toBe('Bar 1: one glissando to be drawn on.');
    expect(saidOf(blow(0, 72), blow(2.1, 76))).toBe(
      'Bar 1: one stroke late and one glissando to be drawn on.',
    );
  });
});
