import fc from 'fast-check';
import { expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { writtenStep } from '../../core/score/writtenStep.ts';
import { drawnNotes, foundNotes, foundStrokes, loaded, strokesOfMidi } from '../exchange/byVerovio.ts';
import { anyDrawn, stepIn } from './anyGrowth.ts';
import { anyIdea } from './anyUpbeat.ts';

// Verovio reads the MusicXML, midi-file the MIDI: both find the notes that the page has, whatever was grown.
it('pieces grown at random are the same on the page, in MusicXML and in MIDI', async () => {
  const pieces = fc.sample(fc.tuple(anyIdea, fc.array(anyDrawn, { minLength: 2, maxLength: 4 })), {
    numRuns: 30,
    seed: 77,
  });
  let strokes = 0;
  for (const [{ motif }, steps] of pieces) {
    let plan = firstPlan('xylophone', 100);
    for (const drawn of steps) {
      const how = drawn.postpone ? 'postpone' : undefined;
      const done = writtenStep(motif, plan, stepIn(motif, plan, drawn), how);
      if (done.ok) plan = done.value.plan;
    }
    const score = scoreOfPlan(motif, plan, 'Ferry', 'Heron');
    const reader = await loaded(musicXml(score));
    expect(foundNotes(reader)).toEqual(drawnNotes(score));
    const midi = strokesOfMidi(Buffer.from(standardMidi(score)), 1);
    expect(midi).toEqual(foundStrokes(reader));
    strokes += midi.length;
  }
  expect(strokes).toBeGreaterThan(300);
}, 120_000);
