import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import { expectedStrokes } from '../../core/rehearse/expected.ts';
import { perform } from '../../core/playback/perform.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import type { Score } from '../../core/score/score.ts';
import { strokesOfMidi } from '../exchange/byVerovio.ts';
import { IDEA } from '../exchange/pieces.ts';
import { scoreOf } from '../gallery/situation.ts';
import { row } from '../gallery/situations/row.ts';

const of = (notes: string): Score => ({
  ...scoreOf({ ...row('x', '', notes, '', ''), instruments: ['marimba'] }),
  tempo: 60,
});
const struck = (score: Score): (readonly [number, number, number])[] =>
  perform(score).events.map(e => [Number(e.seconds.toFixed(4)), e.pitch, e.velocity]);

describe('a roll', () => {
  it('is struck twelve times a second for as long as its note lasts, the first stroke the loudest', () => {
    const all = struck(of('C5:1z D5:1 r2'));
    expect(all).toHaveLength(13);
    expect(all.slice(0, 3)).toEqual([
      [0, 72, 84],
      [0.0833, 72, 71],
      [0.1667, 72, 71],
    ]);
    expect(all.at(-1)).toEqual([1, 74, 84]);
  });

  it('of a tied note is one, over the barline too', () => {
    const all = struck(of('r3 C5:2z r3'));
    expect(all).toHaveLength(24);
    expect(all[0]?.[0]).toBe(3);
    expect(all.at(-1)?.[0]).toBeCloseTo(5 - 1 / 12, 3);
  });

  it('of two notes together is struck hand after hand after a first stroke of both', () => {
    const all = struck(of('C5+E5:1z r3'));
    expect(all.map(([, pitch]) => pitch)).toEqual([
      72,
      76,
      ...Array.from({ length: 5 }, () => [72, 76]).flat(),
    ]);
    const times = all.map(([at]) => at);
    expect(times.slice(0, 2)).toEqual([0, 0]);
    expect(new Set(times.slice(2)).size).toBe(10);
    expect(Math.max(...times)).toBeLessThan(1);
  });

  it('ends where its note ends: no stroke lasts longer', () => {
    for (const notes of ['C5:1z r3', 'C5+E5:2z r2', 'C5:1/4z r15/4']) {
      const { events } = perform(of(notes));
      const end = Math.max(...events.map(e => e.seconds + e.duration));
      expect(end).toBeLessThanOrEqual(2.0001);
      expect(events.every(e => e.duration > 0)).toBe(true);
    }
    expect(struck(of('C5:1/8z r31/8'))).toHaveLength(2);
  });

  it('is so many strokes in a MIDI file, read by midi-file (an independent parser)', () => {
    const bytes = Buffer.from(standardMidi(of('C5:1z D5:1 r2')));
    expect(strokesOfMidi(bytes, 2).filter(s => s.endsWith(' 72'))).toHaveLength(12);
  });

  it('is a tremolo of MusicXML, on every symbol of a tie, and is said in words', () => {
    const score = of('r3 C5:2z A4:1/2z r5/2');
    expect(musicXml(score).match(/<tremolo type="single">\d<\/tremolo>/g)).toEqual([
      '<tremolo type="single">3</tremolo>',
      '<tremolo type="single">3</tremolo>',
      '<tremolo type="single">2</tremolo>',
    ]);
    expect(textScore(score).join()).toContain('C5 crotchet, rolled, tied');
  });

  it('is one note to whoever rehearses it', () => {
    const score = of('C5:1z D5:1 r2');
    const strokes = expectedStrokes(score, { part: 'p1', bars: { first: 0, last: 0 }, speed: 1 });
    expect(strokes.map(s => [s.seconds, s.lasts])).toEqual([
      [0, 1],
      [1, 1],
    ]);
  });

  it('stands on the last note of a statement or on all, as the pupil chose, and tells repeats apart', () => {
    const plan = (rolled?: 'last' | 'all'): Plan => {
      const first = firstPlan('marimba', 90);
      return {
        ...first,
        statements: first.statements.map(s => ({
          ...s,
          times: 2,
          ...(rolled === undefined ? {} : { rolled }),
        })),
      };
    };
    const rolledIn = (p: Plan): number[] =>
      (scoreOfPlan(IDEA, p, '', '').parts[0]?.bars ?? []).map(
        b => b.symbols.filter(s => s.roll === true).length,
      );
    expect(rolledIn(plan())).toEqual([0, 0]);
    expect(rolledIn(plan('last'))).toEqual([0, 1]);
    const [one, two] = rolledIn(plan('all'));
    expect(one).toBe(two);
    expect(one).toBeGreaterThan(6);
    expect(withRepeatBars(scoreOfPlan(IDEA, plan(), '', '')).repeats).toHaveLength(1);
    expect(withRepeatBars(scoreOfPlan(IDEA, plan('last'), '', '')).repeats).toBeUndefined();
    expect(scoreOfPlan(IDEA, plan(), '', '').parts[0]?.bars[0]?.start).toEqual(fraction(0));
  });
});
