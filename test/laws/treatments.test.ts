import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  add,
  divide,
  equal,
  type Fraction,
  fraction,
  multiply,
  parseFraction,
  show,
  subtract,
  sum,
  ZERO,
} from '../../core/foundation/fraction.ts';
import {
  fraction as oracle,
  add as oAdd,
  divide as oDivide,
  multiply as oMultiply,
  subtract as oSubtract,
  type Fraction as Oracle,
} from 'mathjs';
import { type Key, key, MODE_NAMES, scaleMidi, spellScale, toScale } from '../../core/foundation/key.ts';
import { barLength, metre } from '../../core/foundation/metre.ts';
import { midiOf, LETTERS } from '../../core/foundation/pitch.ts';
import { applyChain } from '../../core/motif/apply.ts';
import type { MotifNote, Passage } from '../../core/motif/motif.ts';
import type { Treatment } from '../../core/motif/treatment.ts';
import { notesOf } from '../../core/playback/perform.ts';
import { engravePart } from '../../core/score/engrave.ts';

const keys: fc.Arbitrary<Key> = fc
  .tuple(fc.constantFrom(...LETTERS), fc.constantFrom(...MODE_NAMES))
  .map(([step, mode]) => key(step, mode));
const lengths = fc.constantFrom(
  fraction(1, 4),
  fraction(1, 8),
  fraction(1, 16),
  fraction(3, 8),
  fraction(1, 12),
  fraction(1, 6),
  fraction(3, 16),
);

const phraseIn = (k: Key): fc.Arbitrary<Passage> =>
  fc
    .array(fc.tuple(fc.integer({ min: 48, max: 90 }), lengths, fc.boolean()), { minLength: 1, maxLength: 12 })
    .map(all => {
      let at: Fraction = ZERO;
      const notes: MotifNote[] = [];
      for (const [pitch, duration, rest] of all) {
        if (!rest) notes.push({ ...toScale(k, pitch), onset: at, duration });
        at = add(at, duration);
      }
      return { notes, length: at };
    });
const cases = keys.chain(k => fc.tuple(fc.constant(k), phraseIn(k)));
const heard = (p: Passage, k: Key): string =>
  p.notes
    .map(n => `${show(n.onset)}+${show(n.duration)}=${String(scaleMidi(k, n))}`)
    .sort()
    .join(' ');

const identity = (name: string, chain: (n: number) => Treatment[]): void => {
  it(`${name} is an identity`, () => {
    fc.assert(
      fc.property(cases, fc.integer({ min: -9, max: 9 }), ([k, p], n) => {
        const back = applyChain(p, k, chain(n));
        expect(heard(back, k)).toBe(heard(p, k));
        expect(show(back.length)).toBe(show(p.length));
      }),
    );
  });
};

describe('laws of the treatments', () => {
  for (const factor of [fraction(2), fraction(3), fraction(3, 2), fraction(4)]) {
    identity(`augmentation then diminution by ${show(factor)}`, () => [
      { kind: 'augment', factor },
      { kind: 'diminish', factor },
    ]);
  }
  identity('up n steps, down n steps', n => [
    { kind: 'transpose', by: 'scale', steps: n },
    { kind: 'transpose', by: 'scale', steps: -n },
  ]);
  identity('up n semitones, down n semitones', n => [
    { kind: 'transpose', by: 'semitone', steps: n },
    { kind: 'transpose', by: 'semitone', steps: -n },
  ]);
  identity('double retrograde', () => [{ kind: 'retrograde' }, { kind: 'retrograde' }]);
  identity('double tonal inversion about one axis', n => [
    { kind: 'invert', by: 'scale', axis: n + 30 },
    { kind: 'invert', by: 'scale', axis: n + 30 },
  ]);
  identity('double real inversion about one axis', n => [
    { kind: 'invert', by: 'semitone', axis: n + 66 },
    { kind: 'invert', by: 'semitone', axis: n + 66 },
  ]);
});

describe('laws of pitch and fraction', () => {
  it('a MIDI pitch read into any scale is written as the same pitch', () => {
    fc.assert(
      fc.property(keys, fc.integer({ min: 12, max: 120 }), (k, pitch) => {
        const told = toScale(k, pitch);
        expect(scaleMidi(k, told)).toBe(pitch);
        expect(midiOf(spellScale(k, told))).toBe(pitch);
      }),
    );
  });
  const told = (value: Oracle): string => show({ n: Number(value.s * value.n), d: Number(value.d) });
  it("fractions agree with mathjs' own, result by result", () => {
    const f = fc.tuple(fc.integer({ min: -5000, max: 5000 }), fc.integer({ min: 1, max: 960 }));
    fc.assert(
      fc.property(f, f, ([a, b], [c, d]) => {
        const [x, y] = [fraction(a, b), fraction(c, d)];
        const [ox, oy] = [oracle(a, b), oracle(c, d)];
        expect(show(add(x, y))).toBe(told(oAdd(ox, oy)));
        expect(show(subtract(x, y))).toBe(told(oSubtract(ox, oy)));
        expect(show(multiply(x, y))).toBe(told(oMultiply(ox, oy) as Oracle));
        if (c !== 0) expect(show(divide(x, y))).toBe(told(oDivide(ox, oy) as Oracle));
        expect(parseFraction(show(x))).toEqual(x);
      }),
    );
  });

  it('text is read as mathjs reads it, and what is no fraction is none', () => {
    const digits = fc.integer({ min: -9999, max: 9999 });
    fc.assert(
      fc.property(digits, fc.stringMatching(/^(\.[0-9]{1,6}|\/[1-9][0-9]{0,4})?$/), (whole, rest) => {
        const text = `${String(whole)}${rest}`;
        expect(show(parseFraction(` ${text} `) ?? fraction(0))).toBe(told(oracle(text)));
      }),
    );
    for (const text of ['', '1/0', '1/', '.5', '1.2/3', 'x', '1e3', '1/2/3', '0.12345678901234567890'])
      expect(parseFraction(text)).toBeUndefined();
  });
});

describe('laws of engraving', () => {
  const metres = fc.constantFrom(
    metre(4, 4),
    metre(3, 4),
    metre(2, 4),
    metre(2, 2),
    metre(6, 8),
    metre(9, 8),
    metre(12, 8),
    metre(5, 4),
    metre(5, 8),
    metre(7, 8),
  );
  it('every bar sums to its metre, and ties join to exactly the notes that went in', () => {
    fc.assert(
      fc.property(metres, phraseIn(key('C')), (m, p) => {
        const bars = Math.max(1, Math.ceil((p.length.n * m.lower) / (p.length.d * m.upper)));
        const placed = p.notes.map((n, i) => ({
          onset: n.onset,
          duration: n.duration,
          pitch: spellScale(key('C'), n),
          ref: String(i),
        }));
        const drawn = engravePart({ metre: m, key: key('C'), upbeat: ZERO, bars }, placed);
        for (const bar of drawn)
          expect(equal(sum(bar.symbols.map(s => s.duration)), barLength(m))).toBe(true);
        const part = {
          id: 'p',
          name: '',
          short: '',
          instrument: 'marimba',
          clef: 'treble',
          bars: drawn,
        } as const;
        const joined = notesOf(part, ZERO).map(
          n => `${show(n.onset)}+${show(n.duration)}=${String(n.written)}`,
        );
        const given = placed.map(n => `${show(n.onset)}+${show(n.duration)}=${String(midiOf(n.pitch))}`);
        expect(joined).toEqual(given);
      }),
      { numRuns: 300 },
    );
  });
});
