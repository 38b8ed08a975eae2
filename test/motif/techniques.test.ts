import { describe, expect, it } from 'vitest';
import { type Fraction, fraction, parseFraction, show, times, ZERO } from '../../core/foundation/fraction.ts';
import { type Key, key, scaleMidi, spellScale, toScale } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { pitchName } from '../../core/foundation/pitch.ts';
import { applyChain } from '../../core/motif/apply.ts';
import { augment } from '../../core/motif/augment.ts';
import { invertByScale } from '../../core/motif/invert.ts';
import type { Motif, MotifNote, Passage } from '../../core/motif/motif.ts';
import { transposeBySteps } from '../../core/motif/transpose.ts';
import { grow } from '../../core/growing/grow.ts';
import { statementName } from '../../core/plan/naming.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { playedEnd } from '../../core/plan/standing.ts';
import { positionOf } from '../../core/plan/beats.ts';
import { notesOfStatement } from '../../core/plan/statement.ts';
import { notesOf, perform } from '../../core/playback/perform.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';

const PITCHES: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const midi = (name: string): number => {
  const [, letter = 'C', sign = '', octave = '4'] = /^([A-G])([♯♭]?)(\d)$/.exec(name) ?? [];
  return 12 * (Number(octave) + 1) + (PITCHES[letter] ?? 0) + (sign === '♯' ? 1 : sign === '♭' ? -1 : 0);
};

/** A phrase from note names and lengths in crotchets. */
const phrase = (k: Key, names: string, lengths: string): Passage => {
  let at: Fraction = ZERO;
  const words = lengths.split(/\s+/);
  const notes: MotifNote[] = names.split(/\s+/).map((name, i) => {
    const crotchets = parseFraction(words[i] ?? '1') ?? fraction(1);
    const duration = fraction(crotchets.n, crotchets.d * 4);
    const note = { ...toScale(k, midi(name)), onset: at, duration };
    at = { n: at.n * duration.d + duration.n * at.d, d: at.d * duration.d };
    at = fraction(at.n, at.d);
    return note;
  });
  return { notes, length: at };
};
const names = (p: Passage, k: Key): string => p.notes.map(n => pitchName(spellScale(k, n))).join(' ');
const lengths = (p: Passage): string => p.notes.map(n => show(times(n.duration, 4))).join(' ');

describe('J. S. Bach, Art of Fugue BWV 1080, Contrapunctus VII (Mutopia Project edition, public domain)', () => {
  // The scale with the raised sixth and seventh that the piece uses here.
  const dMinor = key('D', 'melodic minor');
  const tenor = phrase(dMinor, 'D4 A4 G4 F4 E4 D4 C♯4 D4 E4 F4', '1 3/4 1/4 3/4 1/4 1 1 3/4 1/4 1');
  const alto = phrase(dMinor, 'D5 A4 B4 C5 D5 E5 F5 E5 D5 C♯5', '1 3/4 1/4 3/4 1/4 1 1 3/4 1/4 1');

  it('alto bar 3 is the tenor turned upside down about A4 from its second note on', () => {
    const axis = toScale(dMinor, midi('A4')).degree;
    const turned = invertByScale(tenor, axis);
    // Compared by scale degree: the edition has C natural for the fourth note, C sharp for the last.
    expect(turned.notes.slice(1).map(n => n.degree)).toEqual(alto.notes.slice(1).map(n => n.degree));
    expect(names(turned, dMinor).split(' ').slice(4)).toEqual(['D5', 'E5', 'F5', 'E5', 'D5', 'C♯5']);
  });

  it('bass bar 5 is the alto with every duration times four, two octaves lower', () => {
    const bass = applyChain(alto, dMinor, [
      { kind: 'augment', factor: fraction(4) },
      { kind: 'transpose', by: 'semitone', steps: -24 },
    ]);
    expect(lengths(bass)).toBe('4 3 1 3 1 4 4 3 1 4');
    expect(bass.notes.map(n => scaleMidi(dMinor, n))).toEqual(alto.notes.map(n => scaleMidi(dMinor, n) - 24));
    expect(names(bass, dMinor).startsWith('D3 A2 B2')).toBe(true);
  });

  it('soprano bar 2 has durations times two', () => {
    expect(lengths(augment(tenor, fraction(2)))).toBe('2 3/2 1/2 3/2 1/2 2 2 3/2 1/2 2');
  });
});

describe('Frère Jacques (traditional), a round in four voices two bars apart', () => {
  const c = key('C');
  const tune = phrase(
    c,
    'C4 D4 E4 C4 C4 D4 E4 C4 E4 F4 G4 E4 F4 G4 G4 A4 G4 F4 E4 C4 G4 A4 G4 F4 E4 C4 C4 G3 C4 C4 G3 C4',
    '1 1 1 1 1 1 1 1 1 1 2 1 1 2 1/2 1/2 1/2 1/2 1 1 1/2 1/2 1/2 1/2 1 1 1 1 2 1 1 2',
  );
  const motif: Motif = { ...tune, key: c, metre: metre(4, 4) };

  it('is eight bars long and enters as a canon every two bars; all four sound C, E or G together on beats 1 and 3', () => {
    expect(show(motif.length)).toBe('8');
    let plan: Plan = firstPlan('xylophone', 100);
    for (const [i, instrument] of (['glockenspiel', 'marimba', 'vibraphone'] as const).entries()) {
      const step = grow(motif, plan, {
        kind: 'canon',
        statement: 's1',
        to: { newPart: instrument },
        beats: 8 * (i + 1),
      });
      expect(step.ok).toBe(true);
      if (step.ok) plan = step.value.plan;
    }
    expect(plan.statements.map(s => show(s.onset))).toEqual(['0', '2', '4', '6']);
    expect(plan.statements.slice(1).map(s => statementName(motif, plan, s))).toEqual([
      'canon, two bars later',
      'canon, four bars later',
      'canon, six bars later',
    ]);
    const placed = plan.statements.flatMap(s => notesOfStatement(motif, s));
    const sounding = (bar: number, beat: number): string[] => {
      const at = positionOf(motif.metre, bar, beat);
      return placed
        .filter(
          n =>
            n.onset.n * at.d <= at.n * n.onset.d &&
            (n.onset.n / n.onset.d + n.duration.n / n.duration.d) * at.d > at.n,
        )
        .map(n => n.pitch.letter);
    };
    for (const bar of [7, 8]) {
      for (const beat of [1, 3]) {
        const letters = sounding(bar, beat);
        expect(letters).toHaveLength(4);
        expect(letters.every(l => ['C', 'E', 'G'].includes(l))).toBe(true);
      }
    }
  });
});

describe('check values (common practice, no source)', () => {
  const k = key('C');
  const idea: Motif = { ...phrase(k, 'C5 E5 G5 A5', '1/2 1 1/2 2'), key: k, metre: metre(4, 4) };
  const must = (plan: Plan, step: Parameters<typeof grow>[2]): { plan: Plan; statement: string } => {
    const done = grow(idea, plan, step);
    if (!done.ok) throw new Error(done.problem.what);
    return done.value;
  };

  it('one bar stated four times is four bars; the second part enters at bar 3; a canon one beat later on beat 2', () => {
    const four = must(firstPlan('xylophone', 90), { kind: 'repeat', statement: 's1', times: 4 }).plan;
    expect(show(playedEnd(idea, four))).toBe('4');
    const second = must(four, { kind: 'second-part', statement: 's1', to: { newPart: 'marimba' }, bar: 3 });
    const made = second.plan.statements.find(s => s.id === second.statement);
    expect(show(made?.onset ?? ZERO)).toBe('2');
    expect(statementName(idea, second.plan, made ?? second.plan.statements[0] ?? fail())).toBe(
      'second part, at the octave, twice',
    );
    const canon = must(second.plan, {
      kind: 'canon',
      statement: 's1',
      to: { newPart: 'glockenspiel' },
      beats: 1,
    });
    const entry = canon.plan.statements.find(s => s.id === canon.statement);
    expect(show(times(entry?.onset ?? ZERO, 4))).toBe('1');
    expect(statementName(idea, canon.plan, entry ?? fail())).toBe('canon, one beat later, three times');
  });

  it('augmented it lasts two bars; two diminished ones fill a bar', () => {
    expect(show(applyChain(idea, k, [{ kind: 'augment', factor: fraction(2) }]).length)).toBe('2');
    expect(show(times(applyChain(idea, k, [{ kind: 'diminish', factor: fraction(2) }]).length, 2))).toBe('1');
  });

  it('up two steps is a third higher, in the key', () => {
    expect(names(transposeBySteps(idea, 2), k)).toBe('E5 G5 B5 C6');
  });

  it('a canon at another pitch is called imitation; a restatement that is not straight after is no sequence', () => {
    const moved = must(firstPlan('xylophone', 90), {
      kind: 'imitation',
      statement: 's1',
      to: { newPart: 'marimba' },
      beats: 2,
      steps: 2,
    });
    const reply = moved.plan.statements.find(s => s.id === moved.statement);
    expect(statementName(idea, moved.plan, reply ?? fail())).toBe(
      'imitation, two beats later, a third higher',
    );
    const state = (bar: number): string => {
      const made = must(firstPlan('xylophone', 90), {
        kind: 'state',
        statement: 's1',
        treatments: [{ kind: 'transpose', by: 'scale', steps: 1 }],
        to: { part: 'p1' },
        onset: positionOf(idea.metre, bar, 1),
      });
      return statementName(
        idea,
        made.plan,
        made.plan.statements.find(s => s.id === made.statement) ?? fail(),
      );
    };
    expect(state(2)).toBe('sequence, a second higher');
    expect(state(3)).toBe('a second higher');
  });

  it('crotchet = 90 becomes 120: the piece takes three quarters of the time', () => {
    const plan = firstPlan('xylophone', 90);
    const slow = perform(scoreOfPlan(idea, plan, '', ''));
    const fast = perform(scoreOfPlan(idea, { ...plan, tempo: 120 }, '', ''));
    expect(fast.duration / slow.duration).toBeCloseTo(0.75, 10);
  });

  it('stays tied to the motif: correct a note there and every statement follows', () => {
    const plan = must(must(firstPlan('xylophone', 90), { kind: 'repeat', statement: 's1', times: 2 }).plan, {
      kind: 'canon',
      statement: 's1',
      to: { newPart: 'glockenspiel' },
      beats: 1,
    }).plan;
    const mended: Motif = {
      ...idea,
      notes: idea.notes.map((n, i) => (i === 1 ? { ...n, degree: n.degree + 1 } : n)),
    };
    const written = (m: Motif): number[] => {
      const score = scoreOfPlan(m, plan, '', '');
      return score.parts.flatMap(p => notesOf(p, ZERO)).map(n => n.written);
    };
    const [before, after] = [written(idea), written(mended)];
    expect(before.filter((p, i) => p !== after[i])).toHaveLength(3);
  });

  it('refuses an entry where the part already plays, changing nothing', () => {
    const plan = firstPlan('xylophone', 90);
    const clash = grow(idea, plan, { kind: 'second-part', statement: 's1', to: { part: 'p1' }, bar: 1 });
    expect(clash.ok).toBe(false);
    if (!clash.ok) expect(clash.problem.kind).toBe('conflict');
  });
});

const fail = (): never => {
  throw new Error('not found');
};
