import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { PPQ, standardMidi } from '../../core/exchange/standardMidi.ts';
import type { InstrumentId } from '../../core/instruments/instruments.ts';
import { perform, scoreLength } from '../../core/playback/perform.ts';
import { secondsAtOnset } from '../../core/playback/seconds.ts';
import type { NoteMark } from '../../core/plan/noteMarks.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import type { Score } from '../../core/score/score.ts';
import { ideaOf } from '../growing/barred.ts';
import { scoreOf } from '../growing/keyed.ts';

/** C5 E5 C5 G5, crotchets of half a second, some of them let ring. */
const ringing = (instrument: InstrumentId, notes: readonly number[], dead: readonly number[] = []): Score => {
  const idea = ideaOf([
    [0, 1],
    [1, 1],
    [0, 1],
    [2, 1],
  ]);
  const marks = (all: readonly number[], mark: NoteMark['mark']): NoteMark[] =>
    all.map(note => ({ time: 0, note, mark }));
  const plan = firstPlan(instrument, 120);
  return scoreOf(idea, {
    ...plan,
    statements: plan.statements.map(s => ({
      ...s,
      noteMarks: [...marks(notes, 'ring'), ...marks(dead, 'dead')],
    })),
  });
};

/** From note-on to note-off of every note in seconds, by an independent parser. */
const heldInMidi = (score: Score): number[] => {
  const held: number[] = [];
  const open = new Map<number, { at: number; index: number }>();
  let ticks = 0;
  for (const event of parseMidi(standardMidi(score)).tracks[1] ?? []) {
    ticks += event.deltaTime;
    if (event.type !== 'noteOn' && event.type !== 'noteOff') continue;
    const before = open.get(event.noteNumber);
    if (before !== undefined) held[before.index] = (ticks - before.at) / PPQ / 2;
    open.delete(event.noteNumber);
    if (event.type === 'noteOn' && event.velocity > 0) {
      held.push(NaN);
      open.set(event.noteNumber, { at: ticks, index: held.length - 1 });
    }
  }
  return held;
};

// How long bars ring: T60 = 2.2 / (0.0045 f) for rosewood (Hill & Errede's loss factor), 0.93 s at C5; the vibraphone's is
// from memory. Nothing rings longer in our sound than five seconds.
describe('a bar that is let ring', () => {
  it('is held in MIDI until it has died away', () => {
    const [first, second, third, last] = heldInMidi(ringing('marimba', [1, 3]));
    expect(first).toBeCloseTo(0.5, 3);
    expect(second).toBeCloseTo(2.2 / (0.0045 * 659.26), 1);
    expect(third).toBeCloseTo(0.5, 3);
    expect(last).toBeCloseTo(2.2 / (0.0045 * 783.99), 1);
  });

  it('is held on a vibraphone as long as it sounds at the most, and ends when it is struck again', () => {
    const [first, second] = heldInMidi(ringing('vibraphone', [0, 1]));
    // C5 comes again after two crotchets.
    expect(first).toBeCloseTo(1, 3);
    expect(second).toBeCloseTo(5, 2);
    expect(heldInMidi(ringing('vibraphone', []))[1]).toBeCloseTo(0.5, 3);
  });

  it('makes the piece no longer on the page, and leaves a dead stroke dead', () => {
    const score = ringing('vibraphone', [3], [0]);
    expect(perform(score).duration).toBeCloseTo(secondsAtOnset(score, scoreLength(score)), 9);
    expect(heldInMidi(score)[0]).toBeLessThan(0.2);
    expect(perform(score).events.map(e => e.seconds)).toEqual([0, 0.5, 1, 1.5]);
  });

  it('is never held shorter than it is written', () => {
    const whole = ideaOf([[2, 4]]);
    const plan = firstPlan('xylophone', 40);
    const score = scoreOf(whole, {
      ...plan,
      statements: plan.statements.map(s => ({
        ...s,
        noteMarks: [{ time: 0, note: 0, mark: 'ring' as const }],
      })),
    });
    expect(perform(score).events[0]?.duration).toBeCloseTo(6, 6);
  });
});
