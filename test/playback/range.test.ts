import { expect, it } from 'vitest';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import { key, toScale } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { Midi } from '../../core/foundation/midiLibrary.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { perform } from '../../core/playback/perform.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';

it('notes moved beyond what MIDI can say keep their name, in sound and file, and spoil no other note', () => {
  const C = key('C');
  const motif: Motif = {
    key: C,
    metre: metre(4, 4),
    length: fraction(1),
    notes: [98, 72].map((pitch, i) => ({
      onset: fraction(i, 2),
      duration: fraction(1, 2),
      ...toScale(C, pitch),
    })),
  };
  const plan = firstPlan('glockenspiel', 90);
  for (const [octaves, pitches] of [
    // A glockenspiel sounds two octaves up: D7 and C5 an octave higher would be 134 and 108.
    [1, [122, 108]],
    [-12, [2, 0]],
  ] as const) {
    const chain = [{ kind: 'octave' as const, octaves }];
    const statements = plan.statements.map(s => ({ ...s, chain }));
    const score = scoreOfPlan(motif, { ...plan, statements }, '', '');
    expect(perform(score).events.map(e => e.pitch)).toEqual(pitches);
    expect(new Midi(standardMidi(score)).tracks[0]?.notes.map(n => n.midi)).toEqual(pitches);
  }
});
