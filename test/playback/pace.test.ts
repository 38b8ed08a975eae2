import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { type Metre, metre } from '../../core/foundation/metre.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { heardTempi } from '../../core/playback/pace.ts';
import { perform, strokesByPart } from '../../core/playback/perform.ts';
import type { StatementMarks } from '../../core/plan/marks.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import type { Score } from '../../core/score/score.ts';

/** One bar of beats on C D E F..., twice, at 60 beats a minute. */
const scoreWith = (
  marks: StatementMarks,
  m: Metre = metre(4, 4),
  beats = 4,
  beat = fraction(1, 4),
): Score => {
  const idea: Motif = {
    key: key('C'),
    metre: m,
    length: { n: beat.n * beats, d: beat.d },
    notes: Array.from({ length: beats }, (_, i) => ({
      onset: { n: beat.n * i, d: beat.d },
      duration: beat,
      degree: 28 + i,
      alter: 0,
    })),
  };
  const plan = firstPlan('marimba', 60);
  return scoreOfPlan(
    idea,
    {
      ...plan,
      statements: plan.statements.flatMap(s => [
        { ...s, ...marks },
        { ...s, id: 's2', onset: idea.length },
      ]),
    },
    '',
    '',
  );
};
const times = (score: Score): number[] => perform(score).events.map(e => Number(e.seconds.toFixed(6)));

/** Where notes of a MIDI file begin, in seconds, counted by its own tempo events (Standard MIDI File 1.0). */
const midiTimes = (score: Score): number[] => {
  const file = parseMidi(standardMidi(score));
  const ppq = file.header.ticksPerBeat ?? 1;
  const events = file.tracks.flatMap(track => {
    let at = 0;
    return track.map(event => ({ at: (at += event.deltaTime), event }));
  });
  const order = (e: (typeof events)[number]): number => (e.event.type === 'setTempo' ? 0 : 1);
  events.sort((a, b) => a.at - b.at || order(a) - order(b));
  let seconds = 0;
  let at = 0;
  let tempo = 500_000;
  const found: number[] = [];
  for (const { at: here, event } of events) {
    seconds += ((here - at) / ppq) * (tempo / 1e6);
    at = here;
    if (event.type === 'setTempo') tempo = event.microsecondsPerBeat;
    if (event.type === 'noteOn' && event.velocity > 0) found.push(seconds);
  }
  return found.sort((a, b) => a - b);
};

describe('a held note', () => {
  it('lasts twice as long, and everything after it waits (common practice, no source)', () => {
    expect(times(scoreWith({}))).toEqual([0, 1, 2, 3, 4, 5, 6, 7]);
    expect(times(scoreWith({ fermata: true }))).toEqual([0, 1, 2, 3, 5, 6, 7, 8]);
    expect(perform(scoreWith({ fermata: true })).duration).toBe(9);
  });

  it('is held in 6/8 by its own length', () => {
    const score = scoreWith({ fermata: true }, metre(6, 8), 2, fraction(3, 8));
    expect(times(score)).toEqual([0, 1, 3, 4]);
  });

  it('in two parts at once is held once', () => {
    const score = scoreWith({ fermata: true });
    const [part] = score.parts;
    if (part === undefined) throw new Error('no part');
    const two: Score = { ...score, parts: [part, { ...part, id: 'p2' }] };
    expect(perform(two).duration).toBe(9);
  });

  it('is held each time a repeat is played', () => {
    const both = scoreWith({ fermata: true });
    const again: Score = { ...both, repeats: [{ bar: 0, bars: 1, times: 2 }] };
    expect(times(again)).toEqual([0, 1, 2, 3, 5, 6, 7, 8, 10, 11, 12, 13]);
  });
});

/** Sixteen steps of a quarter of a beat, from just under the tempo down to two thirds of it. */
const slowed = (steps: number): number[] => {
  let seconds = 0;
  return Array.from({ length: steps }, (_, k) => {
    const before = seconds;
    seconds += 0.25 / (1 - (1 / 3) * ((k + 1) / steps));
    return before;
  });
};

describe('a ritardando', () => {
  it('slows down evenly to two thirds of the tempo through its bar, and then it is as before', () => {
    const found = times(scoreWith({ ritardando: true }));
    const expected = slowed(16).filter((_, k) => k % 4 === 0);
    expected.forEach((at, i) => {
      expect(found[i]).toBeCloseTo(at, 5);
    });
    expect((found[5] ?? 0) - (found[4] ?? 0)).toBeCloseTo(1, 5);
    // Each beat takes longer than the one before.
    const gaps = [0, 1, 2].map(i => (found[i + 1] ?? 0) - (found[i] ?? 0));
    expect(gaps.every((gap, i) => gap > (i === 0 ? 1 : (gaps[i - 1] ?? 0)))).toBe(true);
  });

  it('goes with the mark it stands under, whichever of several', () => {
    const bars = [0, 1, 2].map(bar => ({ at: fraction(bar), tempo: 60 + 30 * bar }));
    const last = { from: fraction(11, 4), to: fraction(3) };
    const page = { metre: metre(4, 4), tempo: 60, upbeat: fraction(0), tempi: bars, holds: [last] };
    expect(heardTempi(page)).toEqual([
      ...bars.slice(1),
      { at: last.from, tempo: 60 },
      { at: last.to, tempo: 120 },
    ]);
  });

  it.each([
    ['ritardando', { ritardando: true }],
    ['fermata', { fermata: true }],
    ['both', { ritardando: true, fermata: true }],
  ] as const)('%s: a MIDI file says the same times by its tempo events', (_, marks) => {
    const score = scoreWith(marks);
    const heard = times(score);
    midiTimes(score).forEach((at, i) => {
      // Tempo is told in whole microseconds a beat.
      expect(at).toBeCloseTo(heard[i] ?? -1, 2);
    });
    expect(midiTimes(score)).toHaveLength(heard.length);
  });

  it('is not folded into repeats, and a folded piece keeps its places', () => {
    const score = scoreWith({ ritardando: true });
    expect(times(withRepeatBars(score))).toEqual(times(score));
  });
});

describe('a hairpin', () => {
  const struck = (marks: StatementMarks, next: StatementMarks = {}): number[] => {
    const idea = scoreWith(marks);
    const [part] = idea.parts;
    if (part === undefined) throw new Error('no part');
    const bars = part.bars.map((bar, b) =>
      b === 0
        ? bar
        : {
            ...bar,
            symbols: bar.symbols.map((s, i) =>
              i === 0 && next.dynamic ? { ...s, dynamic: next.dynamic } : s,
            ),
          },
    );
    return (strokesByPart({ ...idea, parts: [{ ...part, bars }] })[0] ?? []).map(s => s.velocity);
  };

  // Marks are sixteen steps of velocity apart: p 49, mp 64, f 96 (common practice, no source).
  it('grows evenly to the mark that follows it', () => {
    expect(struck({ dynamic: 'p', hairpin: 'crescendo' }, { dynamic: 'f' })).toEqual([
      49, 65, 80, 96, 96, 96, 96, 96,
    ]);
  });
  it('to the next mark of loudness where none follows, and stays there', () => {
    expect(struck({ dynamic: 'f', hairpin: 'diminuendo' })).toEqual([96, 91, 85, 80, 80, 80, 80, 80]);
  });
  it('a mark that goes the other way is not what it leads to', () => {
    expect(struck({ dynamic: 'mp', hairpin: 'crescendo' }, { dynamic: 'p' })).toEqual([
      64, 69, 75, 80, 49, 49, 49, 49,
    ]);
  });
});
