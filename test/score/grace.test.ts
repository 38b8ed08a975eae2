import { describe, expect, it } from 'vitest';
import { fraction, ZERO } from '../../core/foundation/fraction.ts';
import { key, toScale } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { pitchName } from '../../core/foundation/pitch.ts';
import { applyTreatment } from '../../core/motif/apply.ts';
import type { Motif } from '../../core/motif/motif.ts';
import type { Treatment } from '../../core/motif/treatment.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { scoreOfReading } from '../../core/score/fromReading.ts';
import type { Score } from '../../core/score/score.ts';

const c = key('C');
const MOTIF: Motif = {
  key: c,
  metre: metre(4, 4),
  length: fraction(1),
  notes: [{ onset: ZERO, duration: fraction(1), ...toScale(c, 72), grace: toScale(c, 74) }],
};
const graceOf = (score: Score): string[] =>
  score.parts.flatMap(p => p.bars.flatMap(b => b.symbols.flatMap(s => (s.grace ?? []).map(pitchName))));
const after = (treatment: Treatment): string[] =>
  graceOf(
    scoreOfPlan({ ...MOTIF, ...applyTreatment(MOTIF, c, treatment) }, firstPlan('marimba', 90), '', ''),
  );

// A grace note is part of its note: it moves and turns with it (common practice, no source).
describe('grace notes follow their note', () => {
  it('through the scale, by semitones and upside down', () => {
    expect(after({ kind: 'transpose', by: 'scale', steps: 2 })).toEqual(['F5']);
    expect(after({ kind: 'transpose', by: 'semitone', steps: 2 })).toEqual(['E5']);
    expect(after({ kind: 'invert', by: 'scale' })).toEqual(['B4']);
    expect(after({ kind: 'retrograde' })).toEqual(['D5']);
  });

  it('from a reading to the page, before the first symbol of a tied note only', () => {
    const reading: Reading = {
      metre: metre(4, 4),
      tempo: 90,
      upbeat: ZERO,
      grid: 'automatic',
      notes: [
        {
          onset: fraction(1, 4),
          duration: fraction(1, 2),
          pitch: 72,
          strike: 1,
          doubt: 0,
          grace: { strike: 0, pitch: 73 },
        },
      ],
      dropped: [],
      misfit: 0,
      confidence: 1,
      reason: '',
      beats: [],
      firstBeat: 0,
    };
    const score = scoreOfReading(reading, c, 'xylophone', '', '');
    const symbols = score.parts[0]?.bars[0]?.symbols ?? [];
    expect(symbols.map(s => s.grace?.map(g => pitchName(g) + String(g.accidental ?? '')) ?? [])).toEqual([
      [],
      ['D♭5-1'],
      [],
      [],
    ]);
  });
});
