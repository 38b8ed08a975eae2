import { type Metre, metre } from '../../core/foundation/metre.ts';
import type { Take } from '../../core/take/take.ts';
import { seeded } from '../reading/invented.ts';
import { played } from './written.ts';

/** A rhythm by its name, as a musician writes it. */
export interface Idiom {
  readonly name: string;
  /** Where it is published, or that nobody need have. */
  readonly source: string;
  readonly metre: Metre;
  /** Crotchets a minute. */
  readonly tempo: number;
  /** Crotchets from the first barline: one playing of it, below 0 in an upbeat. */
  readonly at: readonly number[];
  /** Crotchets after which it comes again, and how often it is played. */
  readonly lasts: number;
  readonly times: number;
  readonly pitch?: readonly number[];
  /** Where the second half of a swung pair begins, as a share of it, and how long a pair is in crotchets. */
  readonly swing?: { readonly at: number; readonly pair: number };
  /** Whether it is played to a click, freely, or both. */
  readonly ways: readonly ('click' | 'free')[];
  /** Strikes that are no notes of their own: what ornaments note i of every playing. */
  readonly ornaments?: readonly Ornament[];
  /** Seconds that the player waits before a place, in crotchets of the whole; only without a click. */
  readonly waits?: readonly { readonly before: number; readonly seconds: number }[];
}

/** What goes with a note of an idiom. */
export interface Ornament {
  readonly note: number;
  /** Seconds from the note, the bar it is struck on above the note's, in semitones, and how hard. */
  readonly strikes: readonly { readonly after: number; readonly up: number; readonly velocity: number }[];
  /** How the strikes are written: grace notes, more heads of the chord, or strokes through the stem or a line. */
  readonly as: 'grace' | 'chord' | 'sign';
}

const PRACTICE = 'common practice, no source';
/** The named timelines: Gomez, Melvin, Rappaport, Toussaint 2005, "Mathematical measures of syncopation", Fig. 8. */
const TIMELINES = 'Gomez, Melvin, Rappaport, Toussaint 2005, Fig. 8';
/** Toussaint, "The Geometry of Musical Rhythm", 2013; from memory. */
const GEOMETRY = 'Toussaint 2013, from memory';
const BOTH = ['click', 'free'] as const;
const four = metre(4, 4);
const base = { source: PRACTICE, metre: four, tempo: 96, lasts: 4, times: 2, ways: BOTH };
const sixteenths = (...steps: readonly number[]): number[] => steps.map(s => s / 4);
const grouped = (upper: number, groups: readonly number[]): Metre => ({ upper, lower: 8, groups });
const strokes = (count: number, gap: number, velocity: number, up: (i: number) => number = () => 0) =>
  Array.from({ length: count }, (_, i) => ({ after: (i + 1) * gap, up: up(i), velocity }));

export const IDIOMS: readonly Idiom[] = [
  { ...base, name: 'charleston', at: [0, 1.5] },
  { ...base, name: 'tresillo', source: GEOMETRY, at: [0, 1.5, 3] },
  { ...base, name: 'son clave', source: TIMELINES, at: sixteenths(0, 3, 6, 10, 12) },
  { ...base, name: 'rumba clave', source: TIMELINES, at: sixteenths(0, 3, 7, 10, 12) },
  {
    ...base,
    name: 'habanera',
    source: GEOMETRY,
    metre: metre(2, 4),
    lasts: 2,
    times: 4,
    at: [0, 0.75, 1, 1.5],
  },
  { ...base, name: 'pushes', at: [0, 1, 2, 3.5, 4.5, 5.5, 6.5], lasts: 8 },
  { ...base, name: 'Scotch snaps', at: [0, 0.25, 1, 2, 2.25, 3] },
  {
    ...base,
    name: 'shuffle',
    tempo: 120,
    at: [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5],
    swing: { at: 2 / 3, pair: 1 },
  },
  {
    ...base,
    name: 'swung semiquavers',
    tempo: 76,
    at: sixteenths(0, 1, 2, 3, 4, 6, 8, 9, 10, 12),
    swing: { at: 0.62, pair: 0.5 },
  },
  { ...base, name: '3 over 2', at: [0, 2 / 3, 4 / 3, 2, 3] },
  { ...base, name: 'jig', metre: metre(6, 8), tempo: 150, at: [0, 1, 1.5, 2, 2.5, 3, 4, 4.5], lasts: 6 },
  {
    ...base,
    name: 'siciliano',
    metre: metre(6, 8),
    tempo: 75,
    at: [0, 0.75, 1, 1.5, 2.5],
    lasts: 3,
    times: 4,
  },
  { ...base, name: 'hemiola', metre: metre(3, 4), at: [0, 1, 2, 3, 4, 5, 6, 8, 10], lasts: 12 },
  { ...base, name: '5/4', metre: metre(5, 4), tempo: 132, at: [0, 1.5, 3, 4], lasts: 5, times: 3 },
  ...[
    [3, 2],
    [2, 3],
  ].map(groups => ({
    ...base,
    name: `5/8 in ${groups.join('+')}`,
    metre: grouped(5, groups),
    tempo: 120,
    at: [...starts(groups), 2].sort((a, b) => a - b),
    lasts: 2.5,
    times: 4,
  })),
  ...[
    [2, 2, 3],
    [3, 2, 2],
    [2, 3, 2],
  ].map(groups => ({
    ...base,
    name: `7/8 in ${groups.join('+')}`,
    metre: grouped(7, groups),
    tempo: 120,
    at: starts(groups),
    lasts: 3.5,
    times: 4,
  })),
  { ...base, name: 'an upbeat of a quaver', at: [-0.5, 0, 1, 1.5, 2, 3, 4, 5, 6], lasts: 8 },
  { ...base, name: 'an upbeat of a crotchet', at: [-1, 0, 1, 2, 2.5, 3, 4, 5, 6], lasts: 8 },
  {
    ...base,
    name: 'a fermata',
    ways: ['free'],
    at: [0, 1, 1.5, 2, 3, 4, 5, 6, 8, 9, 9.5, 10, 11, 12, 13, 14],
    lasts: 16,
    times: 1,
    waits: [{ before: 8, seconds: 0.9 }],
  },
  {
    ...base,
    // The second bar breaks off and is begun again; freely, some time too late.
    name: 'a stumble',
    at: [0, 1, 1.5, 2, 3, 4, 4.5, 5, 8, 8.5, 9, 10, 11, 12],
    lasts: 16,
    times: 1,
    waits: [{ before: 8, seconds: 0.25 }],
  },
  {
    ...base,
    name: 'double stops',
    at: [0, 1, 1.5, 2, 3],
    ornaments: [0, 2, 3].map(note => ({
      note,
      as: 'chord',
      strikes: [{ after: 0.018, up: -12, velocity: 88 }],
    })),
  },
  {
    ...base,
    name: 'acciaccatura',
    at: [0, 1, 2, 2.5, 3],
    ornaments: [{ note: 1, as: 'grace', strikes: [{ after: -0.055, up: -1, velocity: 55 }] }],
  },
  {
    ...base,
    name: 'drag',
    at: [0, 1, 2, 2.5, 3],
    ornaments: [
      {
        note: 2,
        as: 'grace',
        strikes: [-0.09, -0.045].map(after => ({ after, up: 0, velocity: 40 })),
      },
    ],
  },
  {
    ...base,
    // Some twelve strokes a second, for a crotchet.
    name: 'roll',
    at: [0, 1, 2],
    ornaments: [{ note: 2, as: 'sign', strikes: strokes(7, 0.083, 70) }],
  },
  {
    ...base,
    // Two bars in turn.
    name: 'tremolo',
    at: [0, 1, 2],
    ornaments: [{ note: 2, as: 'sign', strikes: strokes(7, 0.083, 70, i => (i % 2 === 0 ? 4 : 0)) }],
  },
  {
    ...base,
    name: 'glissando',
    at: [0, 1, 2, 3],
    ornaments: [{ note: 2, as: 'sign', strikes: strokes(8, 0.045, 60, i => 2 * (i + 1)) }],
  },
];

function starts(groups: readonly number[]): number[] {
  return groups.map((_, i) => groups.slice(0, i).reduce((so, g) => so + g / 2, 0));
}

/** Milliseconds of human spread. Our choice: a little steadier than the 26 to 37 ms published of adults (Iversen 2015, second-hand). */
const SPREAD = 20;
const PITCHES = [67, 72, 71, 69, 76, 74, 64];

/** An idiom as somebody plays it, and what it means. */
export interface PlayedIdiom {
  readonly take: Take;
  /** Of each note in order of time: its strike, where it stands in crotchets. */
  readonly notes: readonly { readonly strike: number; readonly at: number }[];
  /** Strikes written as grace notes. */
  readonly graces: readonly number[];
  /** Strikes written as no notes of their own but as a sign on the note before. */
  readonly signs: readonly number[];
}

/** Three hands, by their seeds: the same everywhere. */
export const HANDS = [1, 2, 3] as const;

export const playIdiom = (idiom: Idiom, hand: number, way: 'click' | 'free'): PlayedIdiom => {
  const next = seeded(1000 * hand + idiom.name.length);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  const all = Array.from({ length: idiom.times }, (_, k) => idiom.at.map(x => x + k * idiom.lasts)).flat();
  const pitches = all.map((_, i) => (idiom.pitch ?? PITCHES)[(i % idiom.at.length) % PITCHES.length] ?? 67);
  const take = played({
    at: all.map(x => swung(x, idiom.swing)),
    pitch: pitches,
    off: all.map(() => Math.max(-2.5, Math.min(2.5, normal())) * SPREAD),
    metre: idiom.metre,
    tempo: idiom.tempo,
    click: way === 'click',
  });
  const late = (x: number): number =>
    way === 'click' ? 0 : (idiom.waits ?? []).reduce((so, w) => so + (x >= w.before ? w.seconds : 0), 0);
  const strikes = take.strikes.flatMap((strike, i) => {
    const struck = { ...strike, at: strike.at + late(all[i] ?? 0) };
    const ornament = idiom.ornaments?.find(o => o.note === i % idiom.at.length);
    const more = (ornament?.strikes ?? []).map(s => ({
      strike: {
        at: struck.at + s.after + 0.004 * normal(),
        pitch: struck.pitch + s.up,
        velocity: s.velocity,
      },
      as: ornament?.as,
      place: all[i] ?? 0,
    }));
    return [{ strike: struck, as: 'note' as const, place: all[i] ?? 0 }, ...more];
  });
  const inTime = strikes.sort((a, b) => a.strike.at - b.strike.at);
  return {
    take: { ...take, strikes: inTime.map(s => s.strike) },
    notes: inTime.flatMap((s, i) =>
      s.as === 'note' || s.as === 'chord' ? [{ strike: i, at: s.place }] : [],
    ),
    graces: inTime.flatMap((s, i) => (s.as === 'grace' ? [i] : [])),
    signs: inTime.flatMap((s, i) => (s.as === 'sign' ? [i] : [])),
  };
};

/** Where a place is struck under swing; `played` knows that of quavers alone. */
const swung = (x: number, swing: Idiom['swing']): number => {
  if (swing === undefined) return x;
  const pair = Math.floor(x / swing.pair + 1e-9) * swing.pair;
  const share = (x - pair) / swing.pair;
  return Math.abs(share - 0.5) < 1e-6 ? pair + swing.at * swing.pair : x;
};
