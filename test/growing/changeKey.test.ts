import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fraction, toNumber } from '../../core/foundation/fraction.ts';
import { type Key, key, keyName, MODE_NAMES, signature, writableTonics } from '../../core/foundation/key.ts';
import { movedKey } from '../../core/foundation/movedKey.ts';
import { midiOf, staffPosition } from '../../core/foundation/pitch.ts';
import { changeKey, type OtherKey } from '../../core/growing/changeKey.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { keysInForce } from '../../core/plan/keys.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { notesOfStatement } from '../../core/plan/statement.ts';
import { crotchets, ideaIn, IDEA, after, four, inKey, scoreOf, barsOf, keysOf } from './keyed.ts';

describe('another key from a letter on', () => {
  // Typed from the scales of these keys, as any handbook of theory has them.
  it.each([
    [7, 'G major', 'G5 B5 D6 A5'],
    [-5, 'G major', 'G4 B4 D5 A4'],
    [2, 'D major', 'D5 F♯5 A5 E5'],
    [-2, 'B♭ major', 'B♭4 D5 F5 C5'],
    [1, 'D♭ major', 'D♭5 F5 A♭5 E♭5'],
    [-1, 'B major', 'B4 D♯5 F♯5 C♯5'],
    [3, 'E♭ major', 'E♭5 G5 B♭5 F5'],
    [6, 'F♯ major', 'F♯5 A♯5 C♯6 G♯5'],
    [-6, 'G♭ major', 'G♭4 B♭4 D♭5 A♭4'],
    [12, 'C major', 'C6 E6 G6 D6'],
  ])('%i semitones from C lead to %s', (moved, name, notes) => {
    const plan = inKey(IDEA, four(), 3, { moved });
    const score = scoreOf(IDEA, plan);
    expect(barsOf(score)).toEqual(['C5 E5 G5 D5', 'C5 E5 G5 D5', notes, notes]);
    expect(keysOf(score)).toEqual(moved === 12 ? ['C major'] : ['C major', `2 ${name}`]);
    expect(score.letters).toEqual([{ bar: 2, letter: 'A' }]);
    // What the new signature says needs no sign.
    expect(
      score.parts
        .flatMap(p => p.bars)
        .flatMap(b => b.symbols)
        .flatMap(s => s.pitches)
        .filter(p => p.accidental !== undefined),
    ).toEqual([]);
  });

  it('the signature alone leaves every sound and spells it in the new key', () => {
    const idea = ideaIn(key('C'), [28, [31, 1], 32, [34, -1]]);
    const plan = inKey(idea, four(idea), 3, { signature: key('E', 'major', -1) });
    const score = scoreOf(idea, plan);
    expect(barsOf(score)).toEqual(['C4 F♯4 G4 B♭4', 'C4 F♯4 G4 B♭4', 'C4 F♯4 G4 B♭4', 'C4 F♯4 G4 B♭4']);
    expect(score.parts[0]?.bars.map(b => b.symbols.map(s => s.pitches[0]?.accidental ?? '').join())).toEqual([
      ',1,,-1',
      ',1,,-1',
      ',1,,',
      ',1,,',
    ]);
    expect(keysOf(score)).toEqual(['C major', '2 E♭ major']);
    // The same sounds in a key far off take its names.
    const far = scoreOf(IDEA, inKey(IDEA, four(), 2, { signature: key('D', 'major', -1) }));
    expect(
      new Set(
        far.parts[0]?.bars.flatMap(b =>
          b.symbols.map(s => midiOf(s.pitches[0]?.spelled ?? { letter: 'C', alter: 0, octave: 0 })),
        ),
      ),
    ).toEqual(new Set([72, 76, 79, 74]));
  });

  it('leads home again, and a signature goes on from what sounds', () => {
    const plan = inKey(IDEA, inKey(IDEA, four(), 2, { moved: 7 }), 4, { moved: 0 });
    expect(barsOf(scoreOf(IDEA, plan))).toEqual(['C5 E5 G5 D5', 'G5 B5 D6 A5', 'G5 B5 D6 A5', 'C5 E5 G5 D5']);
    expect(keysOf(scoreOf(IDEA, plan))).toEqual(['C major', '1 G major', '3 C major']);
    const sign = inKey(IDEA, inKey(IDEA, four(), 2, { moved: 7 }), 4, { signature: key('D') });
    expect(barsOf(scoreOf(IDEA, sign)).at(-1)).toBe('G5 B5 D6 A5');
  });

  it('is taken away where nothing would change, and one at the same bar takes its place', () => {
    const g = inKey(IDEA, four(), 3, { moved: 7 });
    expect(inKey(IDEA, g, 3, { moved: 2 }).keys).toEqual([{ bar: 2, moved: 2 }]);
    const none = inKey(IDEA, g, 3, { moved: 0 });
    expect(none).not.toHaveProperty('keys');
    expect(none.letters).toEqual(g.letters);
    expect(inKey(IDEA, four(), 3, { moved: 0 })).toEqual(four());
    expect(inKey(IDEA, g, 4, { moved: 7 }).keys).toEqual([{ bar: 2, moved: 7 }]);
  });

  it.each<[string, number, OtherKey]>([
    ['the first bar', 1, { moved: 7 }],
    ['a bar after the last', 5, { moved: 7 }],
    ['half a bar', 2.5, { moved: 7 }],
    ['more than an octave', 3, { moved: 13 }],
    ['half a semitone', 3, { moved: 0.5 }],
    ['no number', 3, { moved: NaN }],
    ['eight sharps', 3, { signature: key('G', 'major', 1) }],
  ])('refuses %s and changes nothing', (_name, bar, to) => {
    expect(changeKey(IDEA, four(), bar, to)).toMatchObject({ ok: false, problem: { kind: 'out-of-range' } });
  });
  it('refuses a piece of one bar', () => {
    expect(changeKey(IDEA, firstPlan('xylophone', 90), 2, { moved: 7 }).ok).toBe(false);
  });
});

describe('in another key', () => {
  const tonics = MODE_NAMES.flatMap(mode => writableTonics(mode).map((tonic): Key => ({ tonic, mode })));

  it('law: everything sounds exactly so much higher, and no key has more than seven signs', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...tonics),
        fc.integer({ min: -12, max: 12 }),
        fc.array(fc.tuple(fc.integer({ min: 18, max: 44 }), fc.constantFrom(-1, 0, 0, 0, 1)), {
          minLength: 4,
          maxLength: 4,
        }),
        (k, moved, degrees) => {
          const idea = ideaIn(k, degrees);
          const [s1] = four(idea).statements;
          if (s1 === undefined) throw new Error('no statement');
          const before = notesOfStatement(idea, s1);
          const now = notesOfStatement(idea, s1, { keys: [{ bar: 2, moved }] });
          now.forEach((note, i) => {
            const old = before[i];
            if (old === undefined) throw new Error('a note more');
            const by = toNumber(note.onset) < 2 ? 0 : moved;
            expect(midiOf(note.pitch) - midiOf(old.pitch)).toBe(by);
          });
          const there = keysInForce(idea, { keys: [{ bar: 2, moved }] }).at(-1);
          expect(Math.abs(signature(there?.written ?? k))).toBeLessThanOrEqual(7);
          expect(there?.written.mode).toBe(k.mode);
          // Intervals keep their letters, where scale notes are concerned.
          const scale = degrees.every(([, alter]) => alter === 0);
          if (scale)
            expect([5, 6, 7].map(i => steps(now, 8 + (i % 4)))).toEqual(
              [5, 6, 7].map(i => steps(before, 8 + (i % 4))),
            );
        },
      ),
      { numRuns: 300 },
    );
  });
  const steps = (notes: ReturnType<typeof notesOfStatement>, i: number): number =>
    staffPosition(notes[i]?.pitch ?? { letter: 'C', alter: 0, octave: 0 }) -
    staffPosition(notes[8]?.pitch ?? { letter: 'C', alter: 0, octave: 0 });

  // The circle of fifths, as every handbook prints it: tonics of major keys from seven flats to seven sharps.
  it('the spelling with fewest signs is taken: the circle of fifths', () => {
    const circle = ['C♭', 'G♭', 'D♭', 'A♭', 'E♭', 'B♭', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F♯', 'C♯'];
    const semitones: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
    const pitch = (name: string): number =>
      ((semitones[name[0] ?? 'C'] ?? 0) + (name.includes('♯') ? 1 : name.includes('♭') ? -1 : 0) + 12) % 12;
    for (let by = -11; by <= 11; by++) {
      if (by === 0) continue;
      const fitting = circle.filter(name => pitch(name) === (by + 12) % 12);
      const signs = (name: string): number => Math.abs(circle.indexOf(name) - 7);
      const fewest = Math.min(...fitting.map(signs));
      const best = fitting.filter(name => signs(name) === fewest);
      const wanted = best.length === 1 ? best[0] : best.find(name => name.includes(by > 0 ? '♯' : '♭'));
      expect(keyName(movedKey(key('C'), by))).toBe(`${wanted ?? ''} major`);
    }
  });

  it('an upbeat that leads to the letter is in the key it leads to, and other parts keep theirs to the barline', () => {
    // G4 | C5 E5 G5, the upbeat taken out of the bar.
    const idea: Motif = {
      ...IDEA,
      upbeat: fraction(1, 4),
      notes: [
        { onset: fraction(-1, 4), duration: fraction(1, 4), degree: 32, alter: 0 },
        ...crotchets([35, 37, 39]),
      ],
    };
    const plan = inKey(
      idea,
      after(idea, four(idea), {
        kind: 'accompany',
        statement: 's1',
        what: { kind: 'drone', figure: 'broken', steps: [21, 25] },
        to: { newPart: 'marimba' },
        bar: 1,
        bars: 4,
      }),
      3,
      { moved: 2 },
    );
    const score = scoreOf(idea, plan);
    expect(barsOf(score)).toEqual(['G4', 'C5 E5 G5 G4', 'C5 E5 G5 A4', 'D5 F♯5 A5 A4', 'D5 F♯5 A5']);
    expect(barsOf(score, 1)).toEqual(['', 'C3 G3 C3 G3', 'C3 G3 C3 G3', 'D3 A3 D3 A3', 'D3 A3 D3 A3']);
    expect(keysOf(score)).toEqual(['C major', '3 D major']);
  });

  it('treatments, notes changed by hand and names given by hand go along', () => {
    const named: Motif = {
      ...IDEA,
      notes: crotchets([35, [35, 1], 37, 36]).map((n, i) =>
        i === 1 ? { ...n, name: { letter: 'D', alter: -1 } } : n,
      ),
    };
    // C5 D♭5 E5 D5, by hand, a fifth higher: G A♭ B A.
    expect(barsOf(scoreOf(named, inKey(named, four(named), 4, { moved: 7 }))).slice(2)).toEqual([
      'C5 D♭5 E5 D5',
      'G5 A♭5 B5 A5',
    ]);
    const chain = after(IDEA, four(), {
      kind: 'change',
      statement: 's1',
      treatments: [{ kind: 'retrograde' }, { kind: 'transpose', by: 'semitone', steps: 1 }],
    });
    // D G E C backwards, a semitone up: E♭ A♭ F D♭; a tone higher: F B♭ G E♭.
    expect(barsOf(scoreOf(IDEA, inKey(IDEA, chain, 4, { moved: 2 }))).slice(2)).toEqual([
      'E♭5 A♭5 F5 D♭5',
      'F5 B♭5 G5 E♭5',
    ]);
  });

  it('sections copied after the letter sound in its key, and exchanged parts too', () => {
    const two = after(IDEA, firstPlan('xylophone', 90), { kind: 'repeat', statement: 's1', times: 2 });
    const b = after(IDEA, two, {
      kind: 'section',
      from: 1,
      to: 2,
      toBar: 3,
      copies: 1,
      steps: 0,
      letter: true,
    });
    const inG = inKey(IDEA, b, 3, { moved: 7 });
    const again = after(IDEA, inG, {
      kind: 'section',
      from: 1,
      to: 2,
      toBar: 5,
      copies: 1,
      steps: 0,
      letter: true,
    });
    expect(barsOf(scoreOf(IDEA, again))).toEqual([
      ...['C5 E5 G5 D5', 'C5 E5 G5 D5'],
      ...['G5 B5 D6 A5', 'G5 B5 D6 A5', 'G5 B5 D6 A5', 'G5 B5 D6 A5'],
    ]);
    expect(scoreOf(IDEA, again).letters.map(l => [l.bar, l.letter])).toEqual([
      [2, 'A'],
      [4, 'B'],
    ]);
    const parts = after(IDEA, inG, {
      kind: 'accompany',
      statement: 's1',
      what: { kind: 'chord', steps: [21] },
      to: { newPart: 'marimba' },
      bar: 1,
      bars: 4,
    });
    const [p1, p2] = parts.parts;
    const traded = after(IDEA, parts, {
      kind: 'exchange',
      from: 3,
      to: 4,
      pair: [p1?.id ?? '', p2?.id ?? ''],
    });
    expect(barsOf(scoreOf(IDEA, traded), 1)).toEqual(['C3', 'C3', 'G5 B5 D6 A5', 'G5 B5 D6 A5']);
    expect(barsOf(scoreOf(IDEA, traded), 0).slice(2)).toEqual(['G3', 'G3']);
  });
});

describe('stored changes of key', () => {
  it('are put in order, and of two at one bar the later one holds', () => {
    const keys = [
      { bar: 4, moved: 2 },
      { bar: 2, moved: 7 },
      { bar: 4, moved: 5 },
      { bar: 0, moved: 3 },
    ];
    const told = keysInForce(IDEA, { keys }).map(k => [k.bar, keyName(k.written), k.moved]);
    expect(told).toEqual([
      [0, 'C major', 0],
      [2, 'G major', 7],
      [4, 'F major', 5],
    ]);
  });
});
