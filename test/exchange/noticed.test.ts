import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { notesOfStatement } from '../../core/plan/statement.ts';
import { perform } from '../../core/playback/perform.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { playedOut } from '../../core/score/repeats.ts';
import { IDEA } from '../plan/motifs.ts';

// Mistakes that no test noticed once.
describe('what is handed on', () => {
  it.each([
    // MusicXML 4.0: tempo is in crotchets a minute, whatever beat the metronome mark counts.
    ['6/8, dotted crotchet = 90', metre(6, 8), 90, '135'],
    ['2/2, minim = 60', metre(2, 2), 60, '120'],
    ['4/4, crotchet = 92', metre(4, 4), 92, '92'],
    ['5/8, quaver = 160', metre(5, 8), 160, '80'],
  ])('%s sounds at the right tempo in MusicXML', (_, m, tempo, crotchets) => {
    const motif: Motif = {
      ...IDEA,
      metre: m,
      length: fraction(m.upper, m.lower),
      notes: IDEA.notes.slice(0, 1),
    };
    const xml = musicXml(scoreOfPlan(motif, firstPlan('xylophone', tempo), '', ''));
    expect(/<sound [^>]*tempo="([\d.]+)"/.exec(xml)?.[1]).toBe(crotchets);
  });

  it('accents are heard: louder than the same notes without', () => {
    const plain = firstPlan('marimba', 90);
    const accented: Plan = {
      ...plain,
      statements: plain.statements.map(s => ({ ...s, articulation: 'accent' })),
    };
    const loudness = (plan: Plan): number[] =>
      perform(scoreOfPlan(IDEA, plan, '', '')).events.map(e => e.velocity);
    // One dynamic step of MIDI velocity (common practice, no source).
    expect(loudness(accented)).toEqual(loudness(plain).map(v => v + 16));
  });

  it('a copied section keeps how often each statement is made', () => {
    const plain = firstPlan('marimba', 90);
    const plan: Plan = { ...plain, statements: plain.statements.map(s => ({ ...s, times: 3 })) };
    const copied = grow(IDEA, plan, {
      kind: 'section',
      from: 1,
      to: 3,
      toBar: 4,
      copies: 2,
      steps: 0,
      letter: true,
    });
    if (!copied.ok) throw new Error(copied.problem.what);
    const counts = copied.value.plan.statements.map(
      s => notesOfStatement(IDEA, s).length / IDEA.notes.length,
    );
    expect(counts).toEqual([3, 3, 3]);
    expect(copied.value.plan.letters).toEqual([{ bar: 3, letter: 'A' }]);
  });

  it('repeats written out keep their tempi and tuplets in place', () => {
    const triplets: Motif = {
      ...IDEA,
      notes: [0, 1, 2].map(i => ({
        onset: fraction(i, 12),
        duration: fraction(1, 12),
        degree: 28 + i,
        alter: 0,
      })),
    };
    const plan = firstPlan('marimba', 90);
    const score = { ...scoreOfPlan(triplets, plan, '', ''), repeats: [{ bar: 0, bars: 1, times: 2 }] };
    const played = playedOut({ ...score, tempi: [{ at: fraction(1, 2), tempo: 60 }] });
    expect(played.tempi?.map(t => [t.at.n / t.at.d, t.tempo])).toEqual(
      expect.arrayContaining([
        [0.5, 60],
        [1.5, 60],
      ]),
    );
    expect(played.parts[0]?.bars.map(b => b.tuplets.map(t => t.onset.n / t.onset.d))).toEqual([[0], [1]]);
  });
});
