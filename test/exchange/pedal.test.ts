import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { partScores } from '../../core/exchange/partScores.ts';
import { PPQ, standardMidi } from '../../core/exchange/standardMidi.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import type { InstrumentId } from '../../core/instruments/instruments.ts';
import { decodeSaved, encodeSaved } from '../../core/library/saved.ts';
import type { Piece } from '../../core/piece/piece.ts';
import { unplaced } from '../../core/plan/marks.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { perform } from '../../core/playback/perform.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import { pedalsInTurn } from '../../core/score/pedals.ts';
import type { Score, ScoreBar } from '../../core/score/score.ts';
import { scoreOf as situationScore } from '../gallery/situation.ts';
import { ideaOf } from '../growing/barred.ts';
import { scoreOf } from '../growing/keyed.ts';
import { pieceOfVersion15, sha256 } from '../library/pieces.ts';
import { loaded } from './byVerovio.ts';
import { unbalanced } from './spanners.ts';
import { schema, schemaErrors } from './w3cSchema.ts';

// The signs: MusicXML 4.0, `pedal` without a line; MIDI 1.0 detailed specification, controller 64 (damper pedal), down
// from 64 on; from memory. Independent readers: verovio, midi-file, the W3C schema.

const IDEA = ideaOf([
  [0, 1],
  [1, 1],
  [0, 1],
  [2, 1],
]);
/** C5 E5 C5 G5, crotchets of half a second, so many times, the pedal down in each. */
const planOf = (instrument: InstrumentId, times = 1, more: object = {}): Plan => {
  const plan = firstPlan(instrument, 120);
  return { ...plan, statements: plan.statements.map(s => ({ ...s, times, pedalled: true, ...more })) };
};
const pedalled = (instrument: InstrumentId, times = 1, more: object = {}): Score =>
  scoreOf(IDEA, planOf(instrument, times, more));

const pedalsInMidi = (score: Score): (readonly [crotchets: number, value: number])[] => {
  let ticks = 0;
  return (parseMidi(standardMidi(score)).tracks[1] ?? []).flatMap(event => {
    ticks += event.deltaTime;
    return event.type === 'controller' && event.controllerType === 64
      ? [[ticks / PPQ, event.value] as const]
      : [];
  });
};

describe('the pedal of a vibraphone', () => {
  it.runIf(schema !== undefined)('is valid by the W3C schema', async () => {
    const scores = [pedalled('vibraphone', 2), withRepeatBars(pedalled('vibraphone', 4))];
    expect(
      await schemaErrors(new Map(scores.map((score, i) => [String(i), musicXml(score)] as const))),
    ).toEqual([]);
  });

  it('is read by verovio: down at each first note, up after each last one', async () => {
    const reader = await loaded(musicXml(pedalled('vibraphone', 2)));
    const signs = [...reader.getMEI({}).matchAll(/<pedal [^>]*>/g)].map(([tag]) => ({
      bar: tag.includes('tstamp') ? Number(/tstamp="([\d.]+)"/.exec(tag)?.[1]) : undefined,
      way: /dir="(\w+)"/.exec(tag)?.[1],
    }));
    expect(signs.map(sign => sign.way)).toEqual(['down', 'up', 'down', 'up']);
  });

  it('is controller 64 in a MIDI file, each time it is played', () => {
    const twice = [
      [0, 127],
      [4, 0],
      [4, 127],
      [8, 0],
    ];
    expect(pedalsInMidi(pedalled('vibraphone', 2))).toEqual(twice);
    const folded = withRepeatBars(pedalled('vibraphone', 2));
    expect(folded.repeats).toHaveLength(1);
    expect(pedalsInMidi(folded)).toEqual(twice);
  });

  it('goes up and down again between what ends and what begins there', () => {
    let ticks = 0;
    const there = (parseMidi(standardMidi(pedalled('vibraphone', 2))).tracks[1] ?? []).flatMap(event => {
      ticks += event.deltaTime;
      return ticks === 4 * PPQ ? [event.type === 'controller' ? event.value : event.type] : [];
    });
    expect(there).toEqual(['noteOff', 'noteOff', 'noteOff', 0, 127, 'noteOn']);
  });

  it('lets bars ring until it goes up, they are struck again, or they have died away', () => {
    const lasting = (score: Score): number[] =>
      perform(score).events.map(e => Math.round(e.duration * 1000) / 1000);
    expect(lasting(pedalled('vibraphone'))).toEqual([1, 1.5, 1, 0.5]);
    const four = [1, 1.5, 1, 0.5];
    expect(lasting(pedalled('vibraphone', 2))).toEqual([...four, ...four]);
    // At crotchet = 2 a bar has died away long before two minutes are over.
    const slow = lasting({ ...pedalled('vibraphone'), tempo: 2 });
    expect(slow[0]).toBeGreaterThanOrEqual(30);
    expect(slow[1]).toBeLessThan(90);
    // What is stopped by hand is stopped (common practice, no source).
    expect(lasting(pedalled('vibraphone', 1, { articulation: 'staccato' }))).toEqual([
      0.25, 0.25, 0.25, 0.25,
    ]);
    const dead = { noteMarks: [{ time: 0, note: 1, mark: 'dead' }] };
    expect(lasting(pedalled('vibraphone', 1, dead))[1]).toBeLessThan(0.2);
  });

  it('makes bars that have it others than bars that have it not: no repeat barline takes them for the same', () => {
    const [first] = planOf('vibraphone').statements;
    if (first === undefined) throw new Error('nothing stated');
    const { pedalled: _, ...dry } = { ...first, pedalled: undefined, id: 's2', onset: fraction(1) };
    const both = scoreOf(IDEA, { ...planOf('vibraphone'), statements: [first, dry] });
    expect(withRepeatBars({ ...both, brackets: [] }).repeats).toBeUndefined();
    expect(perform(both).events.map(e => e.duration)).toEqual([1, 1.5, 1, 0.5, 0.5, 0.5, 0.5, 0.5]);
  });

  it('goes over into no first-time bar', () => {
    const found = (down: string, up: string): unknown => {
      const bars = ['G5', 'A5'].map(end => `C5:1${down} D5:1 E5:1 F5:1 ${end}:4${up}`);
      const said = { id: '', name: '', written: '', rule: '', source: '', metre: '4/4' };
      const score = situationScore({ ...said, notes: bars.join(' '), instruments: ['vibraphone'] });
      return withRepeatBars({ ...score, brackets: [] }).repeats;
    };
    expect(found('', '')).toHaveLength(1);
    expect(found('~_', '~*')).toBeUndefined();
  });

  it('is said in words, goes along into parts and to followers, and is written for nothing without a pedal', () => {
    const words = textScore(pedalled('vibraphone'))[2] ?? '';
    expect(words).toMatch(/C5 crotchet, pedal down;.*G5 crotchet, pedal up after it$/);
    expect(musicXml(partScores(pedalled('vibraphone'))[0] ?? pedalled('vibraphone'))).toContain('<pedal ');
    expect(unplaced({ pedalled: true as const, fermata: true as const })).toEqual({ pedalled: true });
    for (const instrument of ['marimba', 'xylophone', 'glockenspiel'] as const) {
      expect(textScore(pedalled(instrument)).join()).not.toContain('pedal');
      expect(pedalsInMidi(pedalled(instrument))).toEqual([]);
    }
  });

  it('is kept, refused where it is no mark, and a file of version 15 opens as it was', async () => {
    const bytes = readFileSync(new URL('../migrations/piece-v15.json', import.meta.url));
    const old = await decodeSaved(new Uint8Array(bytes), 'piece-v15.json', sha256);
    if (!old.ok) throw new Error(old.problem.what);
    expect(old.value.piece).toStrictEqual(pieceOfVersion15());
    const marked = (pedal: unknown): Piece => {
      const piece = pieceOfVersion15();
      const statements = piece.plan?.statements.map(s => ({ ...s, pedalled: pedal }));
      return { ...piece, plan: { ...piece.plan, statements } } as unknown as Piece;
    };
    const kept = async (piece: Piece): Promise<unknown> => {
      const stamp = { id: piece.id, revision: 'r1', parents: [], savedAt: '2026-01-05T09:00:00.000Z' };
      const saved = await encodeSaved({ ...stamp, piece }, sha256);
      return saved.ok ? decodeSaved(saved.value, 'test.json', sha256) : saved;
    };
    expect(await kept(marked(true))).toMatchObject({ ok: true, value: { piece: marked(true) } });
    for (const bad of [false, 1, 1e9, NaN, 'yes', null])
      expect(await kept(marked(bad))).toMatchObject({ ok: false });
  });

  it('law: whatever statements lie over each other in a file, it goes down and up in turn on page, in MusicXML and MIDI', () => {
    const any = fc.array(fc.tuple(fc.nat(12), fc.integer({ min: 1, max: 3 }), fc.boolean()), {
      minLength: 1,
      maxLength: 5,
    });
    let pedals = 0;
    fc.assert(
      fc.property(any, drawn => {
        const plan = firstPlan('vibraphone', 120);
        const statements = drawn.map(([at, times, isDown], i) => ({
          id: `s${String(i + 1)}`,
          part: 'p1',
          onset: fraction(at, 4),
          chain: [],
          times,
          ...(isDown ? { pedalled: true as const } : {}),
        }));
        const score = scoreOf(IDEA, { ...plan, statements, nextId: 9 });
        expect(unbalanced(musicXml(score))).toEqual([]);
        const values = pedalsInMidi(score).map(([, value]) => value);
        expect(values).toEqual(values.map((_, i) => (i % 2 === 0 ? 127 : 0)));
        expect(values.length % 2).toBe(0);
        if (values.length > 0) {
          pedals += 1;
          expect(drawn.some(([, , isDown]) => isDown)).toBe(true);
        }
      }),
      { numRuns: 150, seed: 12 },
    );
    expect(pedals).toBeGreaterThan(50);
  });

  it('held by two statements over each other it is held from the first sign to the last', () => {
    const plan = firstPlan('vibraphone', 120);
    const at = (id: string, onset: number): Plan['statements'][number] => ({
      id,
      part: 'p1',
      onset: fraction(2 * onset, 8),
      chain: [],
      times: 1,
      pedalled: true,
    });
    const over = scoreOf(IDEA, { ...plan, statements: [at('s1', 0), at('s2', 2.5)], nextId: 3 });
    expect(pedalsInMidi(over)).toEqual([
      [0, 127],
      [6.5, 0],
    ]);
    // Two that begin and end together are one.
    const same = scoreOf(IDEA, { ...plan, statements: [at('s1', 0), at('s2', 0)], nextId: 3 });
    expect(pedalsInMidi(same)).toEqual([
      [0, 127],
      [4, 0],
    ]);
  });

  // D the pedal goes down with a symbol, U up after it, B both.
  it.each([
    ['D.U', 'D.U'],
    ['D.D.U.U', 'D.....U'],
    ['D.D.U.', 'D...U.'],
    ['U.D.U', '..D.U'],
    ['D.U.D.', 'D.U...'],
    ['B.B', 'B.B'],
    ['D.B.U', 'D...U'],
    ['D.D', '...'],
  ])('%s is held as %s', (given, expected) => {
    const symbols = Array.from(given, sign => ({
      ...(sign === 'D' || sign === 'B' ? { pedal: true } : {}),
      ...(sign === 'U' || sign === 'B' ? { pedalEnds: true } : {}),
    }));
    const [bar] = pedalsInTurn([{ symbols } as unknown as ScoreBar]);
    const told = bar?.symbols.map(s =>
      s.pedal === true ? (s.pedalEnds === true ? 'B' : 'D') : s.pedalEnds === true ? 'U' : '.',
    );
    expect(told?.join('')).toBe(expected);
  });
});
