import fc from 'fast-check';
import { expect, test } from 'vitest';
import { latenessOf } from '../../core/take/latency.ts';

const beats = Array.from({ length: 25 }, (_, i) => 10 + i * 0.6);

test('the lateness put in is found, within a few ms, whatever the player’s unevenness and a few wild strikes', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: -80, max: 150 }),
      fc.array(fc.double({ min: -30, max: 30, noNaN: true }), { minLength: 25, maxLength: 25 }),
      fc.array(fc.nat(24), { maxLength: 3 }),
      (late, noise, wild) => {
        const strikes = beats.map(
          (beat, i) => beat + (late + (noise[i] ?? 0) + (wild.includes(i) ? 140 : 0)) / 1000,
        );
        const used = latenessOf(beats, strikes);
        if (!used.ok) throw new Error(used.problem.what);
        const mean = noise.slice(3).reduce((a, b) => a + b, 0) / 22;
        expect(Math.abs(used.value.late - late - mean)).toBeLessThan(25);
      },
    ),
  );
});

test('an even player is measured to the millisecond', () => {
  const strikes = beats.map((beat, i) => beat + 0.042 + (i % 2 === 0 ? 0.004 : -0.004));
  expect(latenessOf(beats, strikes)).toMatchObject({ ok: true, value: { late: 42, strikes: 22 } });
});

test('too few strikes, and strikes all over the place, are refused with words', () => {
  expect(latenessOf(beats, beats.slice(0, 9))).toMatchObject({ ok: false });
  expect(latenessOf([], beats)).toMatchObject({ ok: false });
  const anywhere = beats.map((beat, i) => beat + ((i * 37) % 24) / 50 - 0.24);
  expect(latenessOf(beats, anywhere)).toMatchObject({ ok: false, problem: { kind: 'out-of-range' } });
});
