import { metre, type Metre, showMetre, tactus } from '../../../core/foundation/metre.ts';
import { toNumber } from '../../../core/foundation/fraction.ts';
import type { Grid, Hints, SwingTolerance } from '../../../core/reading/model/reading.ts';
import type { Strike, Take } from '../../../core/take/take.ts';
import { seeded } from '../invented.ts';
import { place, played } from '../../takes/written.ts';

/** A take of the net, and what was said about it. */
export interface GoldenTake {
  readonly name: string;
  readonly take: Take;
  readonly hints: Hints;
  /** Crotchets from the first barline, one for each strike that the rhythm itself has. */
  readonly at: readonly number[];
}

type Draw = () => number;
const pick = <T>(from: readonly T[], next: Draw): T => from[Math.floor(next() * from.length)] as T;

const METRES: readonly Metre[] = [
  [4, 4],
  [3, 4],
  [6, 8],
  [2, 4],
  [4, 4],
  [5, 8],
  [2, 2],
  [7, 8],
  [4, 4],
  [9, 8],
  [5, 4],
  [12, 8],
].map(([upper = 4, lower = 4]) => metre(upper, lower));

/** Ways to fill a beat that divides in two (in beats), and in three. */
const IN_TWO: readonly (readonly number[])[] = [
  [0],
  [0],
  [0, 1 / 2],
  [0, 1 / 2],
  [0, 3 / 4],
  [1 / 2],
  [],
  [0, 1 / 4, 1 / 2],
  [0, 1 / 2, 3 / 4],
  [0, 1 / 4, 1 / 2, 3 / 4],
  [0, 1 / 3, 2 / 3],
  [1 / 4, 3 / 4],
  [0, 1 / 8, 1 / 4],
];
const IN_THREE: readonly (readonly number[])[] = [
  [0],
  [0, 2 / 3],
  [0, 1 / 3, 2 / 3],
  [0, 1 / 2, 2 / 3],
  [1 / 3, 2 / 3],
  [0, 1 / 6, 1 / 3, 2 / 3],
  [],
];

/** What hands add to a rhythm: two bars at once, soft blows before loud ones, a roll, a bounce. */
const adorned = (strikes: readonly Strike[], kind: number, next: Draw): readonly Strike[] =>
  strikes
    .flatMap((s, i): Strike[] => {
      if (kind === 1 && i % 3 === 0) return [s, { ...s, at: s.at + 0.02 * next(), pitch: s.pitch + 4 }];
      if (kind === 2 && i % 4 === 2)
        return [
          { ...s, at: s.at - 0.05, pitch: s.pitch - 1, velocity: 45 },
          { ...s, velocity: 105 },
        ];
      if (kind === 3 && i === strikes.length - 1)
        return Array.from({ length: 9 }, (_, k) => ({ ...s, at: s.at + 0.07 * k, velocity: 70 }));
      if (kind === 4 && i % 5 === 1) return [s, { ...s, at: s.at + 0.035, velocity: 30 }];
      if (kind === 5 && i % 4 === 3)
        return [0.1, 0.05]
          .map((b): Strike => ({ ...s, at: s.at - b, velocity: 40 }))
          .concat({ ...s, velocity: 110 });
      return [s];
    })
    .sort((a, b) => a.at - b.at || a.pitch - b.pitch);

const GRIDS: readonly Grid[] = ['beat', 'half', 'quarter', 'eighth', 'triplet', 'sextuplet'];
const TOLERANCES: readonly SwingTolerance[] = ['none', 'low', 'medium', 'high'];

/** What a teacher may have said: nothing, in most takes. */
const said = (k: number, at: readonly number[], m: Metre, crotchet: number, next: Draw): Hints => {
  const tactusLength = toNumber(tactus(m)) * 4;
  const taps = Array.from(
    { length: Math.ceil(Math.max(...at) / tactusLength) + 1 },
    (_, b) => 2.06 + b * tactusLength * crotchet + 0.03 * (next() - 0.5),
  );
  switch (k % 20) {
    case 5:
      return { metre: m };
    case 7:
      return { grid: GRIDS[((k / 2) % 6) | 0] ?? 'half' };
    case 9:
      return { taps };
    case 11:
      return { swingTolerance: TOLERANCES[((k / 20) % 4) | 0] ?? 'none' };
    case 13:
      return { tempo: 60 / crotchet / tactusLength, metre: m };
    case 15:
      return { taps: taps.filter((_, b) => b % 5 !== 3), metre: m };
    case 16:
      return { firstBeatStrike: 2, letRing: true };
    case 17:
      return { pins: [{ strike: 1, onset: place((at[1] ?? 0) + 0.25) }] };
    case 18:
      return { free: true };
    case 19:
      return { tempo: 120 / crotchet / tactusLength };
    default:
      return {};
  }
};

/**
 * Takes of every metre, to a click and without, swung, with rests, repeats, upbeats, pauses, chords, grace
 * notes, rolls and hints, each by a seed of its own: adding some leaves the others as they are.
 */
export const goldenTake = (k: number): GoldenTake => {
  const next = seeded(20_261_127 + 104_729 * k);
  const m = METRES[k % METRES.length] ?? metre(4, 4);
  const three = m.lower === 8 && m.upper % 3 === 0;
  const beat = three ? 1.5 : 1;
  const bar = (4 * m.upper) / m.lower;
  const bars = 1 + Math.floor(next() * 2);
  const click = k % 5 !== 1 && k % 5 !== 3;
  // Without a click a long take is dear to read, and says no more.
  const times = 1 + Math.floor(next() * (click || bars === 1 ? 3 : 2));
  const swing = !three && k % 7 === 3 ? 0.6 + 0.12 * next() : 0.5;
  const idea: number[] = [];
  for (let x = 0; x < bars * bar - 1e-9; x += beat) {
    const parts = x === 0 ? [0, ...(next() < 0.5 ? [1 / 2] : [])] : pick(three ? IN_THREE : IN_TWO, next);
    idea.push(...parts.map(p => x + p * beat).filter(at => at < bars * bar - 1e-9));
  }
  const whole = m.upper % 2 === 0 && m.lower === 4 && k % 11 === 8;
  const figure = whole ? [0, 2 / 3, 4 / 3, 2, 3, 3.5].filter(x => x < bars * bar) : idea;
  const upbeat = k % 10 === 4 ? [-1] : [];
  const at = [
    ...upbeat,
    ...Array.from({ length: times }, (_, t) => figure.map(x => x + t * bars * bar)).flat(),
  ];
  const tune = figure.map(() => 60 + Math.floor(next() * 12));
  const spread = 8 + 22 * next();
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  const tempo = (three ? 1.5 : 1) * (60 + 60 * next());
  const base = played({
    at,
    pitch: at.map((_, i) => tune[(i - upbeat.length + tune.length) % tune.length] ?? 60),
    off: at.map(() => spread * normal()),
    tempo,
    metre: m,
    swing,
    click,
  });
  const held = !click && k % 8 === 6 ? 0.8 : 0;
  const drift = !click && k % 4 === 1 ? 0.012 : 0;
  const moved = base.strikes.map((s, i) => ({
    ...s,
    at: s.at + drift * (s.at - 2) ** 2 + (i > base.strikes.length / 2 ? held : 0),
    velocity: 70 + (Math.abs((at[i] ?? 0) % bar) < 1e-9 ? 25 : 0) + Math.floor(8 * next()),
    ...(k % 9 === 5 ? { until: s.at + 0.1 + 0.3 * next() } : {}),
  }));
  const take: Take = {
    ...base,
    strikes: adorned(moved, k % 6, next),
    latency: k % 12 === 10 ? 25 : 0,
    lengthsMean: k % 9 === 5,
  };
  const hints = said(k, at, m, 60 / tempo, next);
  const words = [
    showMetre(m),
    click ? 'to a click' : 'without a click',
    `${String(bars)} bars, ${String(times)} times`,
    ...(swing > 0.5 ? ['swung'] : []),
    ...(held > 0 ? ['a pause'] : []),
    ...(drift > 0 ? ['slowing'] : []),
    ...Object.keys(hints),
  ];
  return { name: `${String(k)}: ${words.join(', ')}`, take, hints, at };
};
