import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { metre } from '../../../core/foundation/metre.ts';
import { latticeOf } from '../../../core/reading/search/lattice.ts';
import { chooseReadings } from '../../../core/reading/writing/choose.ts';
import { lengthsOf } from '../../../core/reading/writing/lengths.ts';

const FOUR = latticeOf(metre(4, 4));
const SIX = latticeOf(metre(6, 8));
const lengths = (places: readonly number[], lattice = FOUR, letRing = false): number[] =>
  lengthsOf(
    places.map(at => ({ at })),
    lattice,
    letRing,
  );

describe('written lengths of struck notes', () => {
  it('law: above nought and never into the next note', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 400 }), { minLength: 1, maxLength: 12 }),
        fc.constantFrom(FOUR, SIX, latticeOf(metre(7, 8))),
        fc.boolean(),
        (all, lattice, letRing) => {
          const places = all.map(p => p * 4).sort((a, b) => a - b);
          lengths(places, lattice, letRing).forEach((length, i) => {
            expect(length).toBeGreaterThan(0);
            const next = places.find(p => p > (places[i] ?? 0));
            if (next !== undefined) expect(length).toBeLessThanOrEqual(next - (places[i] ?? 0));
          });
        },
      ),
    );
  });

  it('a roll that stops before the next note lasts to the nearest half of a beat, or third in compound time', () => {
    const rolled = (ticks: number, lattice = FOUR): number | undefined =>
      lengthsOf([{ at: 0, rolled: ticks }, { at: 144 }], lattice, false)[0];
    expect([20, 30, 50, 70, 100].map(t => rolled(t))).toEqual([24, 24, 48, 72, 96]);
    // Of 6/8 a quaver, a crotchet, a dotted crotchet, five quavers are lengths; a dotted quaver is none of its beat.
    expect([20, 30, 46, 70, 100].map(t => rolled(t, SIX))).toEqual([24, 24, 48, 72, 96]);
  });

  it('a gap one symbol can show is filled', () => {
    expect(lengths([0, 24, 48, 96])).toEqual([24, 24, 48, 48]);
    expect(lengths([0, 72, 96])).toEqual([72, 24, 48]);
    expect(lengths([0, 144, 192])).toEqual([144, 48, 48]);
    expect(lengths([0, 192])).toEqual([192, 48]);
  });

  it('a long silence is a note to the next beat, and rests', () => {
    expect(lengths([48, 288])[0]).toBe(48);
    expect(lengths([24, 288])[0]).toBe(24);
    expect(lengths([0, 384])[0]).toBe(48);
    expect(lengths([0, 240])[0]).toBe(48);
  });

  it('the last note ends with its beat, or with the next when little is left of it', () => {
    expect(lengths([0])).toEqual([48]);
    expect(lengths([24])).toEqual([24]);
    expect(lengths([36])).toEqual([60]);
    expect(lengths([0], SIX)).toEqual([72]);
    expect(lengths([24], SIX)).toEqual([48]);
    expect(lengths([48], SIX)).toEqual([96]);
  });

  it('notes that ring last to the next, the last one to the barline', () => {
    expect(lengths([48, 288, 300], FOUR, true)).toEqual([240, 12, 84]);
    expect(lengths([192], FOUR, true)).toEqual([192]);
  });

  it('a key let go early is short, held it is long', () => {
    const held = (ticks: number): number | undefined =>
      lengthsOf([{ at: 0, held: ticks }, { at: 144 }], FOUR, false)[0];
    expect(held(20)).toBe(48);
    expect(held(140)).toBe(144);
  });

  it('strikes on one place share the way to the next place', () => {
    expect(lengths([0, 0, 48])).toEqual([48, 48, 48]);
  });
});

describe('readings offered', () => {
  const reading = (beat: string, chance: number, ...ticks: number[]) => ({
    ticks: Int32Array.from(ticks),
    chance,
    beat,
    kind: 2,
  });

  it('the same rhythm is offered once, whatever barline it stands after', () => {
    expect(
      chooseReadings([reading('a', 0.6, 0, 48), reading('a', 0.3, 96, 144), reading('a', 0.1, 0, 24)]),
    ).toEqual([0, 2]);
  });

  it('the same places in beats of three are another page', () => {
    const inThree = { ...reading('b', 0.3, 0, 48), kind: 3 };
    expect(chooseReadings([reading('a', 0.6, 0, 48), inThree])).toEqual([0, 1]);
  });

  it('five at the most, and only two where the rest are hopeless', () => {
    const many = Array.from({ length: 9 }, (_, i) => reading('a', 0.1, 0, 12 * (i + 1)));
    expect(chooseReadings(many)).toEqual([0, 1, 2, 3, 4]);
    const hopeless = [0.99, 1e-9, 1e-9, 1e-9].map((chance, i) => reading('a', chance, 0, 12 * (i + 1)));
    expect(chooseReadings(hopeless)).toEqual([0, 1]);
    const just = [0.9, 0.05, 1e-3].map((chance, i) => reading('a', chance, 0, 12 * (i + 1)));
    expect(chooseReadings(just)).toEqual([0, 1, 2]);
    expect(chooseReadings([])).toEqual([]);
  });

  it('where the beat is open, another beat is offered before one beat’s own variants', () => {
    const all = [
      ...Array.from({ length: 6 }, (_, i) => reading('a', 0.1, 0, 12 * (i + 1))),
      reading('b', 0.05, 0, 100),
    ];
    expect(chooseReadings(all)).toContain(6);
    expect(chooseReadings(all)).toHaveLength(5);
  });
});
