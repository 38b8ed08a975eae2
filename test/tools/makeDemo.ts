import { mkdirSync, writeFileSync } from 'node:fs';
import { type Struck, takeBytes } from './takeBytes.ts';

/**
 * Makes the invented takes of assets/demo: each an idea of one or two bars, played the way somebody
 * plays: a little early, never quite even. Run again with `npx tsx test/tools/makeDemo.ts`; the
 * "chance" is a fixed sequence, so the files come out the same.
 */
interface Idea {
  readonly file: string;
  readonly bpm: number;
  /** Crotchets from the first barline, and MIDI pitch. */
  readonly notes: readonly (readonly [number, number])[];
  readonly bars: number;
  readonly times: number;
  readonly swing?: number;
  readonly click: boolean;
}

const IDEAS: readonly Idea[] = [
  {
    file: 'ferry-bell.mid',
    bpm: 92,
    notes: [
      [0, 72],
      [0.75, 76],
      [1, 79],
      [1.5, 79],
      [2.25, 81],
      [2.5, 79],
      [3, 76],
      [3.5, 74],
    ],
    bars: 1,
    times: 4,
    click: true,
  },
  {
    file: 'late-for-lunch.mid',
    bpm: 104,
    notes: [
      [0, 67],
      [0.5, 69],
      [1, 72],
      [2, 72],
      [2.5, 74],
      [3, 76],
      [4, 79],
      [5, 76],
      [5.5, 74],
      [6, 72],
    ],
    bars: 2,
    times: 2,
    click: true,
  },
  {
    file: 'tin-roof.mid',
    bpm: 112,
    notes: [
      [0, 69],
      [0.5, 72],
      [1, 74],
      [1.5, 76],
      [2, 74],
      [2.5, 72],
      [3.5, 69],
      [4, 67],
      [5, 69],
      [5.5, 72],
      [6.5, 69],
    ],
    bars: 2,
    times: 2,
    swing: 1.7,
    click: true,
  },
  {
    file: 'puddle-jump.mid',
    bpm: 84,
    notes: [
      [0, 72],
      [0.5, 74],
      [1.5, 76],
      [2, 74],
      [3, 72],
      [3.5, 69],
      [4, 67],
      [5.5, 69],
      [6, 72],
    ],
    bars: 2,
    times: 2,
    click: false,
  },
];

let state = 20261125;
const chance = (): number => {
  state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
  return state / 2 ** 32;
};
/** Roughly normal, s.d. 1. */
const wobble = (): number => (chance() + chance() + chance() + chance() - 2) * Math.sqrt(3);

const swung = (at: number, ratio: number): number => {
  const beat = Math.floor(at);
  const inside = at - beat;
  const long = ratio / (1 + ratio);
  return beat + (inside < 0.5 ? inside * 2 * long : long + (inside - 0.5) * 2 * (1 - long));
};

mkdirSync('assets/demo', { recursive: true });
for (const idea of IDEAS) {
  const strikes: Struck[] = [];
  for (let time = 0; time < idea.times; time++) {
    for (const [at, pitch] of idea.notes) {
      const crotchets = 4 + time * idea.bars * 4 + swung(at, idea.swing ?? 1);
      const seconds = Math.max(0, (crotchets * 60) / idea.bpm - 0.012 + 0.018 * wobble());
      strikes.push([(seconds * idea.bpm) / 60, pitch, 72 + Math.round(20 * chance())]);
    }
  }
  writeFileSync(`assets/demo/${idea.file}`, takeBytes({ bpm: idea.bpm, click: idea.click, strikes }));
}
