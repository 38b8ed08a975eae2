import { expect, it } from 'vitest';
import { fraction, toNumber } from '../../core/foundation/fraction.ts';
import type { Growth } from '../../core/growing/growth.ts';
import { nearestSpeed } from '../../core/growing/nearestSpeed.ts';

const FACTORS = [fraction(3, 2), fraction(2), fraction(3), fraction(4)];
const step = (factor: number): Growth => ({
  kind: 'canon',
  statement: 's1',
  to: { newPart: 'marimba' },
  beats: 1,
  also: [{ kind: 'retrograde' }, { kind: 'diminish', factor: fraction(factor) }],
});
const factorOf = (made: Growth): number =>
  made.kind === 'canon'
    ? (made.also ?? []).reduce((k, t) => (t.kind === 'diminish' ? toNumber(t.factor) : k), 0)
    : 0;

it('offers the nearest factor that works, nearest by proportion, and keeps what else is done', () => {
  expect(nearestSpeed(step(3), FACTORS, () => true)).toEqual({ kind: 'diminish', factor: fraction(4) });
  expect(nearestSpeed(step(3), FACTORS, made => factorOf(made) === 2)).toEqual({
    kind: 'diminish',
    factor: fraction(2),
  });
  const asked: Growth[] = [];
  nearestSpeed(step(3), FACTORS, made => asked.push(made) > 9);
  expect(asked.map(factorOf)).toEqual([4, 2, 1.5]);
  expect(asked[0]).toMatchObject({ also: [{ kind: 'retrograde' }, { kind: 'diminish' }] });
});

it('offers nothing where no factor works or no speed is changed', () => {
  expect(nearestSpeed(step(3), FACTORS, () => false)).toBeUndefined();
  expect(nearestSpeed({ kind: 'repeat', statement: 's1', times: 2 }, FACTORS, () => true)).toBeUndefined();
  const turned: Growth = { kind: 'change', statement: 's1', treatments: [{ kind: 'retrograde' }] };
  expect(nearestSpeed(turned, FACTORS, () => true)).toBeUndefined();
});
