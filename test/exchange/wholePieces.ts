import { fraction, subtract, toNumber } from '../../core/foundation/fraction.ts';
import { type Key, key, toScale } from '../../core/foundation/key.ts';
import { barLength, type Metre, metre } from '../../core/foundation/metre.ts';
import { lastNotes } from '../../core/growing/ending.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Growth } from '../../core/growing/growth.ts';
import { barAfter, lastBar } from '../../core/growing/sections.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { type InstrumentId } from '../../core/instruments/instruments.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import type { Score } from '../../core/score/score.ts';

// Whole pieces as pupils make them, invented: one to four parts in many metres, with upbeats, swing, sharps, flats, modes,
// notes outside the scale and triplets. Page, paper and every file are held to them.

/** Lengths in 48ths of a semibreve, below zero for a rest; pitches as MIDI. */
type Line = readonly (readonly [length: number, ...pitches: readonly number[]])[];

const ideaOf = (k: Key, m: Metre, upbeat: number, line: Line, bars = 1): Motif => {
  let at = -upbeat;
  const notes = line.flatMap(([length, ...pitches]) => {
    const onset = fraction(at, 48);
    at += Math.abs(length);
    return pitches.map(pitch => ({ onset, duration: fraction(length, 48), ...toScale(k, pitch) }));
  });
  const length = fraction(barLength(m).n * bars, barLength(m).d);
  const before = fraction(upbeat, 48);
  if (at !== toNumber(subtract(length, before)) * 48) throw new Error('the idea does not fill its bars');
  return { key: k, metre: m, length, notes, ...(upbeat > 0 ? { upbeat: before } : {}) };
};

type Step = Growth | ((motif: Motif, plan: Plan) => Growth);

const AGAIN: Growth = { kind: 'repeat', statement: 's1', times: 4 };
const canon = (on: InstrumentId, beats: number, octaves = 0): Growth => ({
  kind: 'canon',
  statement: 's1',
  to: { newPart: on },
  beats,
  octaves,
});
/** Bars 1 to `to` again, a step higher each time, under a letter. */
const section =
  (to: number, steps: number, copies = 1, exchange?: readonly [string, string]): Step =>
  (motif, plan) => ({
    kind: 'section',
    from: 1,
    to,
    toBar: barAfter(motif, plan, 1),
    copies,
    steps,
    letter: true,
    ...(exchange === undefined ? {} : { exchange }),
  });
const drone =
  (on: InstrumentId, figure: 'simple' | 'broken' | 'crossover', steps: readonly number[]): Step =>
  (motif, plan) => ({
    kind: 'accompany',
    statement: 's1',
    what: { kind: 'drone', figure, steps },
    to: { newPart: on },
    bar: 1,
    bars: lastBar(motif, plan),
  });
const ENDING: Step = (motif, plan) => ({
  kind: 'ending',
  statement: 's1',
  steps: Object.fromEntries(plan.parts.map(p => [p.id, lastNotes(motif, plan, p.id).usual.step])),
});

/** A piece, and what it was grown from. */
export interface WholePiece {
  readonly name: string;
  readonly motif: Motif;
  readonly plan: Plan;
  readonly score: Score;
}

const piece = (
  name: string,
  motif: Motif,
  on: InstrumentId,
  tempo: number,
  steps: readonly Step[],
): WholePiece => {
  const plan = steps.reduce<Plan>(
    (so, step) => {
      const grown = grow(motif, so, typeof step === 'function' ? step(motif, so) : step);
      if (!grown.ok) throw new Error(`${name}: ${grown.problem.what}`);
      return grown.value.plan;
    },
    firstPlan(on, tempo),
  );
  return { name, motif, plan, score: scoreOfPlan(motif, plan, name, 'Heron') };
};

const cPentatonic = ideaOf(key('C', 'major pentatonic'), metre(4, 4), 0, [
  [6, 72],
  [12, 76],
  [9, 79],
  [9, 78],
  [4, 81],
  [4, 79],
  [4, 76],
]);
const dMinor = ideaOf(
  key('D', 'harmonic minor'),
  metre(3, 4),
  12,
  [
    [12, 69],
    [12, 74],
    [6, 73],
    [6, 74],
    [12, 76],
    [18, 77],
    [6, 76],
  ],
  2,
);
const aMajor = ideaOf(
  key('A'),
  metre(6, 8),
  6,
  [
    [6, 76],
    [12, 81],
    [6, 80],
    [6, 78],
    [6, 80],
    [6, 81],
    [12, 83],
    [6, 76],
    [12, 81],
  ],
  2,
);
const eFlat = ideaOf(key('E', 'major', -1), metre(5, 8), 0, [
  [6, 75],
  [6, 79],
  [6, 82],
  [12, 80],
]);
const gDorian = ideaOf(key('G', 'dorian'), metre(12, 8), 0, [
  [12, 67],
  [6, 70],
  [18, 74],
  [6, 72],
  [6, 70],
  [6, 69],
  [18, 76],
]);
const ePhrygian = ideaOf(key('E', 'phrygian'), metre(4, 4), 0, [
  [6, 76],
  [6, 77],
  [6, 76],
  [6, 75],
  [3, 76],
  [3, 79],
  [6, 77],
  [6, 74, 83],
  [6, 76],
]);
const fLydian = ideaOf(
  key('F', 'lydian'),
  metre(4, 4),
  24,
  [[8, 72], [8, 74], [8, 76], [12, 77], [12, 81], [18, 83], [6, 84], [24, 81], [24, 77], [-24]],
  3,
);

export const WHOLE_PIECES: readonly WholePiece[] = [
  piece('Ferry bell', { ...cPentatonic, swing: { ratio: 2, unit: fraction(1, 8) } }, 'xylophone', 92, [
    AGAIN,
    canon('glockenspiel', 1),
    {
      kind: 'state',
      statement: 's1',
      treatments: [
        { kind: 'augment', factor: fraction(2) },
        { kind: 'octave', octaves: -1 },
      ],
      to: { newPart: 'vibraphone' },
      onset: fraction(0),
      times: 2,
    },
    drone('marimba', 'broken', [21, 25]),
    section(4, 1, 2),
    section(4, 0, 1, ['p1', 'p2']),
    ENDING,
  ]),
  piece('Low tide', dMinor, 'marimba', 104, [
    AGAIN,
    { kind: 'imitation', statement: 's1', to: { newPart: 'vibraphone' }, beats: 3, steps: 4 },
    section(8, 0, 1),
    ENDING,
  ]),
  piece('Windmill', aMajor, 'xylophone', 72, [
    AGAIN,
    { kind: 'sequence', statement: 's1', steps: -1, copies: 2 },
    section(8, 2, 1),
    ENDING,
  ]),
  piece('Five gates', eFlat, 'glockenspiel', 168, [
    { kind: 'repeat', statement: 's1', times: 8 },
    canon('xylophone', 5),
    {
      kind: 'state',
      statement: 's1',
      treatments: [{ kind: 'invert', by: 'scale' }],
      to: { newPart: 'marimba' },
      onset: fraction(10, 8),
      times: 4,
    },
    section(8, 1, 2),
    ENDING,
  ]),
  piece('Slow train', gDorian, 'vibraphone', 63, [
    AGAIN,
    canon('xylophone', 2),
    {
      kind: 'state',
      statement: 's1',
      treatments: [{ kind: 'retrograde' }],
      to: { newPart: 'glockenspiel' },
      onset: fraction(12, 8),
      times: 2,
    },
    drone('marimba', 'simple', [25, 29]),
    section(4, 0, 1),
    ENDING,
  ]),
  piece('Glass stairs', ePhrygian, 'xylophone', 120, [
    AGAIN,
    {
      kind: 'state',
      statement: 's1',
      treatments: [
        { kind: 'augment', factor: fraction(2) },
        { kind: 'octave', octaves: -1 },
      ],
      to: { newPart: 'marimba' },
      onset: fraction(0),
      times: 2,
    },
    { kind: 'key', statement: 's1', bar: 3, to: { moved: 5 } },
    section(4, 0, 3),
    ENDING,
  ]),
  piece('Lamp', fLydian, 'vibraphone', 96, [
    { kind: 'repeat', statement: 's1', times: 3 },
    { kind: 'sequence', statement: 's1', steps: 1, copies: 2 },
    ENDING,
  ]),
];
