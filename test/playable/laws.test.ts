import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import type { Motif } from '../../core/motif/motif.ts';
import type { InstrumentId } from '../../core/instruments/instruments.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { toneBarsOf, toneBarState, withToneBar } from '../../core/playable/toneBarSet.ts';
import { checkPlayable, type PlayableCheck } from '../../core/playable/check.ts';
import { USUAL_LIMITS } from '../../core/playable/limits.ts';
import { PRESETS } from '../../core/playable/presets.ts';
import { mendPlan, mendRoom } from '../../core/playable/remedies.ts';
import { changeSet, chooseSet, newMusicRoom, type MusicRoom } from '../../core/playable/musicRoom.ts';
import { type Hand, stickingCost, suggestSticking } from '../../core/playable/sticking.ts';
import type { MalletStroke } from '../../core/playable/strokes.ts';
import { warningsOf } from '../../core/playable/warnings.ts';
import { clockOf, idea } from './ideas.ts';

const KEYS = [
  key('C'),
  key('G'),
  key('F'),
  key('D', 'dorian'),
  key('C', 'major pentatonic'),
  key('A', 'minor'),
];

const motifs = (pitches: fc.Arbitrary<number>): fc.Arbitrary<Motif> =>
  fc
    .record({
      k: fc.constantFrom(...KEYS),
      notes: fc.array(fc.tuple(fc.integer({ min: 0, max: 7 }), pitches), { minLength: 1, maxLength: 6 }),
    })
    .map(({ k, notes }) =>
      idea(
        notes.map(([at, pitch]) => [at, 1, pitch]),
        1,
        k,
      ),
    );

const INSTRUMENT_PAIRS: readonly (readonly [InstrumentId, InstrumentId])[] = [
  ['xylophone', 'glockenspiel'],
  ['marimba', 'marimba'],
  ['vibraphone', 'xylophone'],
];

const plans: fc.Arbitrary<Plan> = fc
  .record({
    pair: fc.constantFrom(...INSTRUMENT_PAIRS),
    moves: fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 1, maxLength: 3 }),
    tempo: fc.integer({ min: 50, max: 180 }),
  })
  .map(({ pair, moves, tempo }) => ({
    parts: pair.map((instrument, i) => ({ id: `p${String(i + 1)}`, instrument })),
    statements: moves.map((steps, i) => ({
      id: `s${String(i + 1)}`,
      part: i === 1 ? 'p2' : 'p1',
      onset: fraction(i),
      chain: steps === 0 ? [] : [{ kind: 'transpose' as const, by: 'scale' as const, steps }],
      times: 1,
    })),
    tempo,
    letters: [],
    nextId: 9,
  }));

const rooms: fc.Arbitrary<MusicRoom> = fc
  .record({
    sets: fc.tuple(...[0, 1].map(() => fc.constantFrom(...PRESETS.map(s => s.id)))),
    lifted: fc.array(fc.integer({ min: 60, max: 81 }), { maxLength: 3 }),
  })
  .map(({ sets, lifted }) => {
    const room = newMusicRoom('r1', 'Music room');
    const fewer = sets.reduce<MusicRoom>(
      (so, id) => changeSet(so, id, set => lifted.reduce((s, pitch) => withToneBar(s, pitch, 'lifted'), set)),
      room,
    );
    const two = {
      parts: [
        { id: 'p1', instrument: 'xylophone' as const },
        { id: 'p2', instrument: 'glockenspiel' as const },
      ],
    };
    return two.parts.reduce<MusicRoom>((so, part, i) => chooseSet(so, two, part, sets[i] ?? ''), fewer);
  });

const check = (motif: Motif, plan: Plan, room: MusicRoom): PlayableCheck =>
  checkPlayable(motif, plan, room, clockOf(motif, plan));
const lacking = (found: PlayableCheck): string[] =>
  found.parts.flatMap(p => p.problems.flatMap(q => q.toneBars.map(b => `${q.statement} ${String(b.pitch)}`)));

describe('range', () => {
  test('a piece whose notes all have a bar has no problem, and one that has none is told of each', () => {
    fc.assert(
      fc.property(motifs(fc.integer({ min: 50, max: 90 })), plans, rooms, (motif, plan, room) => {
        for (const part of check(motif, plan, room).parts) {
          const bars = new Set(toneBarsOf(part.set));
          const wanting = part.needed.filter(n => !bars.has(n.pitch)).map(n => n.pitch);
          const told = new Set(part.problems.flatMap(p => p.toneBars.map(b => b.pitch)));
          expect([...told].sort((a, b) => a - b)).toEqual(wanting);
          // What is struck and what is to be set out are the same bars.
          const struck = new Set(part.strokes.flatMap(s => s.pitches));
          expect(part.needed.map(n => n.pitch)).toEqual([...struck].sort((a, b) => a - b));
        }
      }),
    );
  });

  test('inside a concert range nothing is out of range', () => {
    fc.assert(
      fc.property(motifs(fc.integer({ min: 55, max: 84 })), motif => {
        const plan: Plan = {
          parts: [{ id: 'p1', instrument: 'glockenspiel' }],
          statements: [{ id: 's1', part: 'p1', onset: fraction(0), chain: [], times: 2 }],
          tempo: 60,
          letters: [],
          nextId: 2,
        };
        expect(check(motif, plan, newMusicRoom('r', 'Room')).parts[0]?.problems).toEqual([]);
      }),
    );
  });

  test('every remedy offered removes the problem it is offered for, and makes no new one', () => {
    let offered = 0;
    fc.assert(
      fc.property(motifs(fc.integer({ min: 48, max: 96 })), plans, rooms, (motif, plan, room) => {
        const before = check(motif, plan, room);
        const had = new Set(lacking(before));
        for (const problem of before.parts.flatMap(p => p.problems)) {
          for (const remedy of problem.remedies) {
            offered += 1;
            const after = check(motif, mendPlan(motif, plan, remedy), mendRoom(room, remedy));
            const left = after.parts.flatMap(p => p.problems);
            expect(left.map(p => p.statement)).not.toContain(problem.statement);
            if (remedy.kind === 'piece') expect(left).toEqual([]);
            else expect(lacking(after).filter(l => !had.has(l))).toEqual([]);
          }
        }
      }),
      { numRuns: 300 },
    );
    expect(offered).toBeGreaterThan(100);
  });

  test('moves offered are the nearest: no smaller move of the statement does', () => {
    fc.assert(
      fc.property(motifs(fc.integer({ min: 48, max: 96 })), plans, rooms, (motif, plan, room) => {
        for (const problem of check(motif, plan, room).parts.flatMap(p => p.problems)) {
          for (const remedy of problem.remedies) {
            if (remedy.kind !== 'steps') continue;
            for (let k = 1; k < Math.abs(remedy.steps); k++) {
              for (const steps of [k, -k]) {
                const tried = check(motif, mendPlan(motif, plan, { ...remedy, steps }), room);
                expect(tried.parts.flatMap(p => p.problems.map(q => q.statement))).toContain(
                  problem.statement,
                );
              }
            }
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  test('a bar is there or not there for one reason; bars that are there are listed', () => {
    fc.assert(
      fc.property(rooms, fc.integer({ min: 30, max: 110 }), (room, pitch) => {
        for (const set of room.sets)
          expect(toneBarsOf(set).includes(pitch)).toBe(toneBarState(set, pitch) === 'there');
      }),
    );
  });
});

const lines: fc.Arbitrary<readonly MalletStroke[]> = fc
  .array(
    fc.record({
      gap: fc.integer({ min: 60, max: 900 }),
      pitches: fc.uniqueArray(fc.integer({ min: 53, max: 96 }), { minLength: 1, maxLength: 3 }),
      single: fc.integer({ min: 0, max: 3 }),
    }),
    { minLength: 1, maxLength: 24 },
  )
  .map(all => {
    let seconds = 0;
    return all.map(({ gap, pitches, single }, i) => {
      seconds += gap / 1000;
      const struck = single > 0 ? pitches.slice(0, 1) : pitches;
      return { onset: fraction(i, 8), seconds, pitches: [...struck].sort((a, b) => a - b) };
    });
  });
const cost = (line: readonly MalletStroke[], hands: readonly Hand[]): number =>
  stickingCost(line, hands, USUAL_LIMITS);

describe('sticking', () => {
  test('never costs more than hand after hand, or one hand alone', () => {
    fc.assert(
      fc.property(lines, line => {
        const best = cost(line, suggestSticking(line, USUAL_LIMITS));
        const alternating = (first: Hand, second: Hand): Hand[] =>
          line.map((_, i) => (i % 2 === 0 ? first : second));
        for (const other of [
          alternating('R', 'L'),
          alternating('L', 'R'),
          line.map((): Hand => 'R'),
          line.map((): Hand => 'L'),
        ])
          expect(best).toBeLessThanOrEqual(cost(line, other) + 1e-9);
      }),
    );
  });

  test('is the cheapest of all there are (every one tried, up to ten strokes)', () => {
    fc.assert(
      fc.property(lines, all => {
        const line = all.slice(0, 10);
        const best = cost(line, suggestSticking(line, USUAL_LIMITS));
        let least = Number.POSITIVE_INFINITY;
        for (let code = 0; code < 2 ** line.length; code++)
          least = Math.min(
            least,
            cost(
              line,
              line.map((_, i): Hand => ((code >> i) % 2 === 0 ? 'R' : 'L')),
            ),
          );
        expect(best).toBeCloseTo(least, 9);
      }),
      { numRuns: 40 },
    );
  });

  test('one hand for one note, both for more; more than two notes at once are always told', () => {
    fc.assert(
      fc.property(lines, line => {
        const hands = suggestSticking(line, USUAL_LIMITS);
        expect(hands.map(h => h === 'B')).toEqual(line.map(s => s.pitches.length > 1));
        const told = warningsOf(line, hands, USUAL_LIMITS).find(w => w.kind === 'three')?.onsets ?? [];
        expect(told).toEqual(line.filter(s => s.pitches.length > 2).map(s => s.onset));
      }),
    );
  });

  test('what is slower than every limit is never warned of', () => {
    fc.assert(
      fc.property(lines, line => {
        const slow = line.map((s, i) => ({ ...s, seconds: i * 0.351, pitches: s.pitches.slice(0, 2) }));
        expect(warningsOf(slow, suggestSticking(slow, USUAL_LIMITS), USUAL_LIMITS)).toEqual([]);
      }),
    );
  });
});
