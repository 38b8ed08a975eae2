import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  add,
  atMost,
  equal,
  type Fraction,
  fraction,
  less,
  subtract,
  ZERO,
} from '../../core/foundation/fraction.ts';
import { key, spell } from '../../core/foundation/key.ts';
import { barLength, beatLengths, isCompound, type Metre } from '../../core/foundation/metre.ts';
import { valueLength } from '../../core/foundation/noteValue.ts';
import { midiOf } from '../../core/foundation/pitch.ts';
import type { PlacedNote } from '../../core/plan/placed.ts';
import { barsNeeded, engravePart } from '../../core/score/engrave.ts';
import type { ScoreBar, ScoreSymbol } from '../../core/score/score.ts';
import { metreOf } from '../score/written.ts';

const METRES = ['4/4', '3/4', '2/4', '2/2', '6/8', '9/8', '12/8', '5/4', '6/4', '3/8', '7/8'] as const;

interface Line {
  readonly metre: Metre;
  readonly upbeat: Fraction;
  readonly notes: readonly PlacedNote[];
  readonly bars: readonly ScoreBar[];
}

/** A line of notes and rests on semiquavers, now and then a beat of triplets, with or without an upbeat. */
const anyLine: fc.Arbitrary<Line> = fc
  .record({
    metre: fc.constantFrom(...METRES).map(metreOf),
    upbeat: fc.integer({ min: 0, max: 5 }),
    steps: fc.array(
      fc.record({
        length: fc.integer({ min: 1, max: 14 }),
        pitch: fc.integer({ min: 60, max: 76 }),
        rest: fc.boolean(),
        triplet: fc.integer({ min: 0, max: 5 }),
      }),
      { minLength: 1, maxLength: 14 },
    ),
  })
  .map(({ metre, upbeat, steps }) => {
    const before = fraction(upbeat, 16);
    const notes: PlacedNote[] = [];
    let at: Fraction = subtract(ZERO, before);
    const put = (duration: Fraction, pitch: number): void => {
      notes.push({ onset: at, duration, pitch: spell(key('C'), pitch), ref: String(notes.length) });
      at = add(at, duration);
    };
    for (const { length, pitch, rest, triplet } of steps) {
      const onBeat = (at.n * 4) % at.d === 0 && metre.lower === 4 && at.n >= 0;
      if (triplet === 0 && onBeat) for (let i = 0; i < 3; i++) put(fraction(1, 12), pitch + i);
      else if (rest) at = add(at, fraction(length, 16));
      else put(fraction(length, 16), pitch);
    }
    const frame = { metre, key: key('C'), upbeat: before, bars: barsNeeded(metre, notes) };
    return { metre, upbeat: before, notes, bars: engravePart(frame, notes) };
  });

const end = (s: ScoreSymbol): Fraction => add(s.onset, s.duration);
const inBar = (bar: ScoreBar, m: Metre, at: Fraction): Fraction =>
  // The upbeat's places count from the barline it would have if it were full.
  subtract(at, bar.number === 0 ? subtract(ZERO, barLength(m)) : bar.start);
const beatEnds = (m: Metre): readonly Fraction[] => {
  let at: Fraction = ZERO;
  return beatLengths(m).map(length => (at = add(at, length)));
};
/** Whether nothing of these places lies strictly between two moments. */
const clear = (places: readonly Fraction[], from: Fraction, to: Fraction): boolean =>
  !places.some(place => less(from, place) && less(place, to));

const law = (check: (line: Line) => void): void => {
  fc.assert(fc.property(anyLine, check), { numRuns: 120, seed: 17 });
};

describe('whatever is played, in any metre', () => {
  it('each bar is exactly full, its symbols one after the other, and the values drawn last as long', () => {
    law(({ metre, upbeat, bars }) => {
      bars.forEach((bar, index) => {
        let at = bar.start;
        for (const symbol of bar.symbols) {
          expect(symbol.onset).toEqual(at);
          at = end(symbol);
          const tuplet = symbol.tuplet === undefined ? undefined : bar.tuplets[symbol.tuplet];
          const drawn = valueLength(symbol.value);
          if (symbol.wholeBar === true) expect(symbol.duration).toEqual(bar.length);
          else if (tuplet === undefined) expect(symbol.duration).toEqual(drawn);
          else {
            const scaled = fraction(drawn.n * tuplet.normal, drawn.d * tuplet.actual);
            expect(symbol.duration).toEqual(scaled);
          }
        }
        expect(at).toEqual(add(bar.start, bar.length));
        const isUpbeat = index === 0 && upbeat.n > 0;
        expect(bar.length).toEqual(isUpbeat ? upbeat : barLength(metre));
        expect(bar.index).toBe(index);
        expect(bar.number).toBe(upbeat.n > 0 ? index : index + 1);
      });
    });
  });

  it('the beginning of a long line is written as it stands in the whole', () => {
    law(({ metre, upbeat, notes, bars }) => {
      const first = Math.ceil(bars.length / 2);
      const begun = engravePart(
        { metre, key: key('C'), upbeat, bars: first - (upbeat.n > 0 ? 1 : 0) },
        notes,
      );
      expect(begun).toEqual(bars.slice(0, first));
    });
  });

  it('tied symbols joined again are the notes that were played; a rest is never tied', () => {
    law(({ notes, bars }) => {
      const joined: { onset: Fraction; end: Fraction; pitch: number; ref: string }[] = [];
      let open = false;
      for (const symbol of bars.flatMap(bar => bar.symbols)) {
        expect(symbol.tiedFrom).toBe(open);
        open = symbol.tiedTo;
        const [pitch] = symbol.pitches;
        if (pitch === undefined) {
          expect([symbol.tiedFrom, symbol.tiedTo]).toEqual([false, false]);
          continue;
        }
        const last = joined.at(-1);
        if (symbol.tiedFrom && last !== undefined) {
          expect([midiOf(pitch.spelled), pitch.ref]).toEqual([last.pitch, last.ref]);
          last.end = end(symbol);
        } else
          joined.push({
            onset: symbol.onset,
            end: end(symbol),
            pitch: midiOf(pitch.spelled),
            ref: pitch.ref,
          });
      }
      expect(open).toBe(false);
      expect(joined).toEqual(
        notes.map(n => ({
          onset: n.onset,
          end: add(n.onset, n.duration),
          pitch: midiOf(n.pitch),
          ref: n.ref,
        })),
      );
    });
  });

  // Berklee's notation guides: in 4/4 nothing but a semibreve or a dotted minim on beat 1 crosses the middle.
  it('in 4/4 only a note that begins the bar sounds across its middle, and no rest does', () => {
    law(({ metre, bars }) => {
      if (metre.upper !== 4 || metre.lower !== 4) return;
      for (const bar of bars) {
        for (const symbol of bar.symbols) {
          const [from, to] = [inBar(bar, metre, symbol.onset), inBar(bar, metre, end(symbol))];
          if (clear([fraction(1, 2)], from, to) || symbol.wholeBar === true) continue;
          expect(from).toEqual(ZERO);
          expect(symbol.pitches.length).toBeGreaterThan(0);
        }
      }
    });
  });

  // Berklee's notation guides: compound metres are cut at every dotted beat.
  it('in compound metres a symbol that crosses a beat begins and ends on beats', () => {
    law(({ metre, bars }) => {
      if (!isCompound(metre)) return;
      const edges = [ZERO, ...beatEnds(metre)];
      for (const bar of bars) {
        for (const symbol of bar.symbols) {
          const [from, to] = [inBar(bar, metre, symbol.onset), inBar(bar, metre, end(symbol))];
          if (clear(edges, from, to)) continue;
          expect(edges).toContainEqual(from);
          expect(edges).toContainEqual(to);
        }
      }
    });
  });

  // Common practice, no source: a rest in a simple metre has no dot.
  it('a rest in a simple metre has no dot', () => {
    law(({ metre, bars }) => {
      if (isCompound(metre) || metre.groups !== undefined) return;
      for (const symbol of bars.flatMap(bar => bar.symbols)) {
        if (symbol.pitches.length === 0) expect(symbol.value.dots).toBe(0);
      }
    });
  });

  // Berklee's notation guides: never across the middle of 4/4; 3/4 by beat or the whole bar, never 3+3;
  // compound metres by dotted beat; with semiquavers or tuplets every beat shows.
  it('a beam has two notes or more, flagged ones only, and crosses no beat but where quavers may', () => {
    law(({ metre, bars }) => {
      const ends = beatEnds(metre);
      for (const bar of bars) {
        expect(new Set(bar.beams.flat()).size).toBe(bar.beams.flat().length);
        for (const group of bar.beams) {
          const members = group.flatMap(i => bar.symbols[i] ?? []);
          expect(members.length).toBeGreaterThan(1);
          for (const s of members) expect(s.value.base >= 8 && s.pitches.length > 0).toBe(true);
          expect([...group].sort((a, b) => a - b)).toEqual(group);
          const [first, last] = [members[0], members.at(-1)];
          if (first === undefined || last === undefined) continue;
          const [from, to] = [inBar(bar, metre, first.onset), inBar(bar, metre, last.onset)];
          const sameBeat = ends.every(e => atMost(e, from) || less(to, e));
          if (sameBeat) continue;
          expect(isCompound(metre) || metre.groups !== undefined || metre.lower !== 4).toBe(false);
          if (metre.upper === 4) expect(less(from, fraction(1, 2))).toBe(less(to, fraction(1, 2)));
          for (const s of members) expect([s.value.base, s.tuplet]).toEqual([8, undefined]);
        }
      }
    });
  });

  it('flagged notes that follow on in one beat are beamed together', () => {
    law(({ metre, bars }) => {
      const ends = beatEnds(metre);
      for (const bar of bars) {
        bar.symbols.slice(1).forEach((symbol, i) => {
          const before = bar.symbols[i];
          if (before === undefined) return;
          const flagged = [before, symbol].every(s => s.value.base >= 8 && s.pitches.length > 0);
          const [from, to] = [inBar(bar, metre, before.onset), inBar(bar, metre, symbol.onset)];
          if (!flagged || !ends.every(e => atMost(e, from) || less(to, e))) return;
          expect(bar.beams.some(group => group.includes(i) && group.includes(i + 1))).toBe(true);
        });
      }
    });
  });
});

it('two mallets struck together are one symbol as long as the longer, cut by the next stroke', () => {
  fc.assert(
    fc.property(
      fc.uniqueArray(fc.integer({ min: 0, max: 30 }), { minLength: 2, maxLength: 8 }),
      fc.array(fc.integer({ min: 1, max: 8 }), { minLength: 16, maxLength: 16 }),
      (places, lengths) => {
        const onsets = [...places].sort((a, b) => a - b);
        const at = (i: number): number => onsets[i] ?? Infinity;
        const notes = onsets.flatMap((onset, i): PlacedNote[] =>
          [67, 60].map((pitch, k) => ({
            onset: fraction(onset, 16),
            duration: fraction(lengths[2 * i + k] ?? 1, 16),
            pitch: spell(key('C'), pitch),
            ref: '',
          })),
        );
        const m = metreOf('4/4');
        const bars = engravePart(
          { metre: m, key: key('C'), upbeat: ZERO, bars: barsNeeded(m, notes) },
          notes,
        );
        const struck = bars.flatMap(bar => bar.symbols).filter(s => s.pitches.length > 0 && !s.tiedFrom);
        expect(struck.map(s => s.onset)).toEqual(onsets.map(onset => fraction(onset, 16)));
        for (const s of struck) expect(s.pitches.map(p => midiOf(p.spelled))).toEqual([60, 67]);
        const sounding = bars
          .flatMap(bar => bar.symbols)
          .filter(s => s.pitches.length > 0)
          .reduce((sum, s) => add(sum, s.duration), ZERO);
        const wanted = onsets.reduce(
          (sum, onset, i) =>
            sum + Math.min(Math.max(lengths[2 * i] ?? 1, lengths[2 * i + 1] ?? 1), at(i + 1) - onset),
          0,
        );
        expect(equal(sounding, fraction(wanted, 16))).toBe(true);
      },
    ),
    { numRuns: 100, seed: 5 },
  );
});
