import { readFileSync } from 'node:fs';
import { parseFraction, show, subtract, times } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import type { Take } from '../../core/take/take.ts';
import { printTable } from '../bench/figures.ts';
import { sharedFile } from '../exchange/shared.ts';

/**
 * Prints whether doubt is honest: of the notes said to be so sure, how many are right? Measured on the
 * development cases beside the project, which are no part of it. Prints; judges nothing.
 * Usage: npx tsx test/tools/doubtTable.ts
 */
interface Case {
  readonly id: string;
  readonly source: string;
  readonly mode: 'click' | 'free';
  readonly metre: string;
  readonly beatTimesS?: readonly number[];
  readonly onsets: readonly { readonly timeS: number; readonly pitch: number; readonly velocity?: number }[];
  readonly truth: { readonly onsetBeats: readonly string[] };
}

const takeOf = (c: Case): Take => {
  const [upper = 4, lower = 4] = c.metre.split('/').map(Number);
  // The cases count 2/2 in crotchets.
  const [beats, unit] = lower === 2 ? [2 * upper, 4] : [upper, lower];
  return {
    id: c.id,
    capturedAt: '1970-01-01T00:00:00.000Z',
    source: 'file',
    from: c.id,
    latency: 0,
    lengthsMean: false,
    strikes: c.onsets.map(o => ({ at: o.timeS + 4, pitch: o.pitch, velocity: o.velocity ?? 80 })),
    ...(c.beatTimesS === undefined
      ? {}
      : { click: { metre: metre(beats, unit), beats: c.beatTimesS.map(t => t + 4) } }),
  };
};

/** Which notes are right: as they stand with a click, else after the shift and octave that suit most. */
const rightNotes = (c: Case, reading: Reading): boolean[] | undefined => {
  const truth = c.truth.onsetBeats.map(text => parseFraction(text) ?? { n: 0, d: 1 });
  const byStrike = [...reading.notes].sort((x, y) => x.strike - y.strike);
  if (byStrike.length !== truth.length) return undefined;
  let best: boolean[] = [];
  let most = -1;
  for (const factor of c.mode === 'free' ? [4, 8, 2] : [4]) {
    const shifts = byStrike.map((n, i) => show(subtract(truth[i] ?? { n: 0, d: 1 }, times(n.onset, factor))));
    for (const shift of c.mode === 'free' ? new Set(shifts) : ['0']) {
      const right = shifts.map(s => s === shift);
      const count = right.filter(Boolean).length;
      if (count > most) [most, best] = [count, right];
    }
  }
  return best;
};

const EDGES = [0, 0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 0.99, 1.01];
interface Bin {
  notes: number;
  said: number;
  right: number;
}

for (const mode of ['click', 'free'] as const) {
  const bins: Bin[] = EDGES.slice(1).map(() => ({ notes: 0, said: 0, right: 0 }));
  let doubted = 0;
  let offered = 0;
  let wrong = 0;
  let mended = 0;
  for (const set of ['real', 'synth', 'pupil']) {
    const file = sharedFile(`data/${set}_dev.json`);
    if (file === undefined) continue;
    const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { readonly cases: readonly Case[] };
    for (const c of cases) {
      if (c.mode !== mode || c.source.endsWith('_lowconf')) continue;
      const [reading] = readTake(takeOf(c), mode === 'free' ? { free: true } : {});
      const right = reading === undefined ? undefined : rightNotes(c, reading);
      if (reading === undefined || right === undefined) continue;
      [...reading.notes]
        .sort((x, y) => x.strike - y.strike)
        .forEach((note, i) => {
          const sure = 1 - note.doubt;
          const bin = bins[EDGES.findIndex((edge, k) => sure >= edge && sure < (EDGES[k + 1] ?? 2))];
          if (bin === undefined) return;
          bin.notes++;
          bin.said += sure;
          if (right[i] === true) bin.right++;
          if (note.doubt > 0.1) {
            doubted++;
            if ((note.elsewhere ?? []).length > 0) offered++;
          }
          if (mode === 'click' && right[i] === false) {
            wrong++;
            const truth = c.truth.onsetBeats[i] ?? '';
            const meant = parseFraction(truth);
            if (meant !== undefined && (note.elsewhere ?? []).some(e => show(times(e, 4)) === show(meant)))
              mended++;
          }
        });
    }
  }
  console.log(`\nnotes of first readings, ${mode === 'click' ? 'with' : 'without'} a click`);
  printTable(
    ['said to be sure', 'notes', 'said', 'right', 'off by'],
    bins.map((bin, k) => {
      const said = (100 * bin.said) / bin.notes;
      const right = (100 * bin.right) / bin.notes;
      const percent = (x: number): string => (bin.notes === 0 ? '-' : `${x.toFixed(1)} %`);
      return [
        `${((EDGES[k] ?? 0) * 100).toFixed(0)} to ${Math.min(100, (EDGES[k + 1] ?? 1) * 100).toFixed(0)} %`,
        String(bin.notes),
        percent(said),
        percent(right),
        percent(right - said),
      ];
    }),
  );
  const all = bins.reduce((sum, b) => sum + b.notes, 0);
  const error = bins.reduce((sum, b) => sum + Math.abs(b.said - b.right), 0) / Math.max(1, all);
  console.log(`  calibration error ${error.toFixed(3)} over ${String(all)} notes`);
  console.log(
    `  another place offered for ${String(offered)} of ${String(doubted)} notes with doubt above 0.1`,
  );
  if (mode === 'click')
    console.log(
      `  the right place is among those offered for ${String(mended)} of ${String(wrong)} wrong notes`,
    );
}
