import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { perform } from '../../core/playback/perform.ts';
import { type ExpectedStroke, expectedStrokes, overAndOver } from '../../core/rehearse/expected.ts';
import { noticed, type PlayedStroke } from '../../core/rehearse/notice.ts';
import { sectionInTime } from '../../core/rehearse/section.ts';
import { ALL, canonOf, exactly, ideaOf, kinds, scoreOf } from './scores.ts';

/** Any part: notes and rests, upbeats, metres, swing, any speed, several times through. */
const anyPart = fc
  .record({
    notes: fc.array(fc.tuple(fc.constantFrom(1, 1, 2, 3, 4, -1, -2), fc.integer({ min: 0, max: 9 })), {
      minLength: 1,
      maxLength: 14,
    }),
    metre: fc.constantFrom(metre(4, 4), metre(3, 4), metre(6, 8), metre(5, 8)),
    tempo: fc.integer({ min: 50, max: 132 }),
    swing: fc.boolean(),
    upbeat: fc.boolean(),
    speed: fc.constantFrom(0.4, 0.55, 0.8, 1, 1.2),
    passes: fc.integer({ min: 1, max: 3 }),
  })
  .filter(({ notes }) => notes.some(([quavers]) => quavers > 0))
  .map(({ notes, metre: m, tempo, swing, upbeat, speed, passes }) => {
    const idea = ideaOf(notes, { metre: m });
    const early = fraction(1, 8);
    const motif = upbeat
      ? {
          ...idea,
          upbeat: early,
          notes: idea.notes.map(note => ({
            ...note,
            onset: fraction(note.onset.n * 8 - note.onset.d, note.onset.d * 8),
          })),
        }
      : idea;
    const score = {
      ...scoreOf(motif, {}, tempo),
      ...(swing ? { swing: { ratio: 2, unit: fraction(1, 8) } } : {}),
    };
    const { from, to } = sectionInTime(score, ALL);
    const once = expectedStrokes(score, { part: 'p1', bars: ALL, speed });
    return overAndOver(once, passes, (to - from) / speed);
  })
  .filter(expected => expected.length > 0);

describe('laws of what is noticed', () => {
  it('struck exactly, everything is in its place', () => {
    fc.assert(
      fc.property(anyPart, expected => {
        expect(kinds(noticed(expected, exactly(expected)))).toEqual({ 'in place': expected.length });
      }),
    );
  });

  it('one stroke that comes late, or early, is the only one that did', () => {
    fc.assert(
      fc.property(
        anyPart,
        fc.nat(),
        fc.integer({ min: 51, max: 140 }),
        fc.boolean(),
        (expected, which, by, early) => {
          const at = which % expected.length;
          const written = expected[at];
          const struck = (written?.seconds ?? 0) + ((early ? -1 : 1) * by) / 1000;
          // Past another stroke on the same bar nobody can tell which of both it was.
          const passes = (other: ExpectedStroke): boolean =>
            other !== written &&
            other.pitch === written?.pitch &&
            (other.seconds - written.seconds) * (other.seconds - struck) <= 0;
          fc.pre(!expected.some(passes));
          const played = exactly(expected).map((stroke, i) =>
            i === at ? { ...stroke, at: struck } : stroke,
          );
          const all = noticed(expected, played);
          const off = all.filter(one => one.kind !== 'in place');
          expect(off).toHaveLength(1);
          const [one] = off;
          expect(one?.kind).toBe(early ? 'early' : 'late');
          if (one === undefined || !('off' in one)) throw new Error('no answer');
          expect(one.off).toBeCloseTo(early ? -by : by, 6);
          expect(one.written).toEqual(written);
        },
      ),
    );
  });

  it('one stroke that is left out is the only one missing', () => {
    fc.assert(
      fc.property(anyPart, fc.nat(), (expected, which) => {
        const at = which % expected.length;
        const all = noticed(
          expected,
          exactly(expected).filter((_, i) => i !== at),
        );
        expect(all.filter(one => one.kind !== 'in place')).toEqual([
          { kind: 'left out', written: expected[at] },
        ]);
      }),
    );
  });

  it('one blow too many is the only one added', () => {
    fc.assert(
      fc.property(
        anyPart,
        fc.double({ min: 0, max: 12, noNaN: true }),
        fc.integer({ min: 55, max: 80 }),
        (expected, at, pitch) => {
          const extra: PlayedStroke = { at, pitch, velocity: 90 };
          fc.pre(expected.every(s => s.pitch !== pitch || Math.abs(s.seconds - at) > 0.031));
          const all = noticed(expected, [...exactly(expected), extra]);
          expect(all.filter(one => one.kind !== 'in place')).toEqual([{ kind: 'added', played: extra }]);
        },
      ),
    );
  });

  it('the neighbour struck in place of one bar is told as that, and nothing else is', () => {
    fc.assert(
      fc.property(anyPart, fc.nat(), fc.constantFrom(-2, -1, 1, 2), (expected, which, by) => {
        const at = which % expected.length;
        const one = expected[at] as ExpectedStroke;
        // Struck where the same bar is wanted a moment later, it may be that stroke, early.
        fc.pre(expected.every(s => s.pitch !== one.pitch + by || Math.abs(s.seconds - one.seconds) > 0.3001));
        const played = exactly(expected).map((stroke, i) =>
          i === at ? { ...stroke, pitch: stroke.pitch + by } : stroke,
        );
        const all = noticed(expected, played);
        expect(all.filter(n => n.kind !== 'in place')).toEqual([
          { kind: 'other bar', written: one, played: played[at], off: 0 },
        ]);
      }),
    );
  });

  it('the order in which blows are handed over changes nothing', () => {
    const any = fc.array(
      fc.record({
        at: fc.double({ min: -1, max: 9, noNaN: true }),
        pitch: fc.integer({ min: 58, max: 76 }),
        velocity: fc.integer({ min: 1, max: 127 }),
      }),
      { maxLength: 24 },
    );
    fc.assert(
      fc.property(anyPart, any, fc.integer(), (expected, played, seed) => {
        const mixed = [...played].sort(
          (a, b) => Math.sin(a.at * 99 + a.pitch + seed) - Math.sin(b.at * 99 + b.pitch + seed),
        );
        const all = noticed(expected, played);
        expect(noticed(expected, mixed)).toEqual(all);
        expect(noticed([...expected].reverse(), mixed)).toEqual(all);
        // It is told as the page goes on.
        const times = all.map(one => (one.kind === 'added' ? one.played.at : one.written.seconds));
        expect(times).toEqual([...times].sort((a, b) => a - b));
      }),
    );
    // Not even where only their strength tells two blows apart.
    const two = [50, 100].map(velocity => ({ at: 1, pitch: 60, velocity }));
    expect(noticed([], [...two].reverse())).toEqual(noticed([], two));
  });

  it('whatever is struck, every written stroke is told once and no blow twice', () => {
    const any = fc.array(
      fc.record({
        at: fc.oneof(fc.double({ min: -1, max: 9, noNaN: true }), fc.constant(NaN), fc.constant(Infinity)),
        pitch: fc.integer({ min: 0, max: 127 }),
        velocity: fc.integer({ min: 1, max: 127 }),
      }),
      { maxLength: 40 },
    );
    fc.assert(
      fc.property(anyPart, any, (expected, played) => {
        const all = noticed(expected, played);
        const written = all.flatMap(one => ('written' in one ? [one.written] : []));
        expect(new Set(written).size).toBe(written.length);
        expect(written.length).toBe(expected.length);
        const blows = all.flatMap(one => ('played' in one ? [one.played] : []));
        expect(new Set(blows).size).toBe(blows.length);
      }),
    );
  });
});

describe('what is expected goes by the clock of the sound', () => {
  it('a canon in two parts, at three speeds: the very seconds of the sound', () => {
    const score = canonOf(
      ideaOf([
        [2, 0],
        [1, 4],
        [3, 2],
        [2, 0],
      ]),
    );
    const { events } = perform(score);
    for (const speed of [0.4, 0.8, 1.2]) {
      for (const part of ['p1', 'p2']) {
        const sounded = events.filter(event => event.part === part).map(event => event.seconds / speed);
        const expected = expectedStrokes(score, { part, bars: ALL, speed }).map(stroke => stroke.seconds);
        expect(expected.length).toBeGreaterThan(10);
        expected.forEach((at, i) => {
          expect(at).toBeCloseTo(sounded[i] ?? NaN, 9);
        });
      }
    }
  });

  it('a section begins at nought, and holds its own bars only', () => {
    const score = canonOf(
      ideaOf([
        [2, 0],
        [2, 1],
        [2, 2],
        [2, 3],
      ]),
    );
    const expected = expectedStrokes(score, { part: 'p1', bars: { first: 2, last: 2 }, speed: 1 });
    expect(expected.map(({ seconds, bar, place }) => [seconds, bar, place])).toEqual([
      [0, 2, 2],
      [0.5, 2, 2.25],
      [1, 2, 2.5],
      [1.5, 2, 2.75],
    ]);
  });

  it('what one part is to play does not hang on what another is', () => {
    const idea = ideaOf([
      [2, 0],
      [2, 1],
      [2, 2],
      [2, 3],
    ]);
    const both = canonOf(idea);
    const alone = { ...both, parts: both.parts.filter(part => part.id === 'p2') };
    const what = { part: 'p2', bars: ALL, speed: 0.8 };
    expect(expectedStrokes(both, what)).toEqual(expectedStrokes(alone, what));
  });
});
