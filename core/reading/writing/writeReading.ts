import { itemAt, intAt } from '../model/at.ts';
import { compare, toNumber, ZERO } from '../../foundation/fraction.ts';
import { tactus } from '../../foundation/metre.ts';
import type { Seconds } from '../../foundation/units.ts';
import type { CleanTake, StruckEvent } from '../../take/clean.ts';
import { rollEnd } from '../../take/fastRuns.ts';
import type { Take } from '../../take/take.ts';
import { type Placement, residuals } from '../onBeat/placeOnBeat.ts';
import { glissandoOf } from '../onBeat/quick.ts';
import { TICKS, toFraction } from '../search/lattice.ts';
import { doubtsOf } from './doubts.ts';
import { lengthsOf } from './lengths.ts';
import { gracesOf, type Hints, type Reading, type ReadNote } from '../model/reading.ts';
import { reasonOf } from './reason.ts';
import { steadyBeat } from '../search/steadyBeat.ts';
import { secondsAt, ticksAt, type TimeMap } from '../search/timeMap.ts';
import type { Beat, Candidate } from '../onBeat/onBeat.ts';
import { FORCED } from './constants.ts';

const notesOf = (
  take: Take,
  clean: CleanTake,
  found: Placement,
  lengths: readonly number[],
  doubt: readonly number[],
  elsewhere: readonly (readonly number[])[],
): ReadNote[] =>
  clean.events.flatMap((event, i) =>
    event.strikes.map(strike => {
      const pitch = take.strikes[strike]?.pitch ?? 60;
      const graces = clean.graces.get(strike) ?? [];
      const other = elsewhere[i] ?? [];
      const roll = clean.rolls.get(strike);
      const line = glissandoOf(clean.lines.get(strike), take.strikes);
      return {
        onset: toFraction(intAt(found.ticks, i)),
        duration: toFraction(itemAt(lengths, i)),
        pitch,
        strike,
        doubt: itemAt(doubt, i),
        ...(other.length === 0 ? {} : { elsewhere: other.map(toFraction) }),
        ...gracesOf(graces.map(g => ({ strike: g, pitch: take.strikes[g]?.pitch ?? pitch }))),
        ...(roll === undefined ? {} : { roll }),
        ...(line === undefined ? {} : { gliss: line }),
      };
    }),
  );

/** When a roll or a line ended, lateness taken off; undefined where nothing was rolled or drawn. */
const rolledUntil = (take: Take, clean: CleanTake, event: StruckEvent): Seconds | undefined => {
  const strokes = event.strikes
    .flatMap(s => clean.rolls.get(s) ?? clean.lines.get(s)?.strokes ?? [])
    .flatMap(s => take.strikes[s]?.at ?? [])
    .sort((a, b) => a - b);
  return strokes.length < 2 ? undefined : rollEnd(strokes) - take.latency / 1000;
};

/**
 * A candidate written down: notes with lengths and doubt, tempo, beats, misfit in milliseconds, confidence from 0 to 1.
 * @param chances of all candidates, 0 to 1
 * @param confidence in this one, 0 to 1
 */
export const readingOf = (
  take: Take,
  clean: CleanTake,
  hints: Hints,
  c: Candidate,
  all: readonly Candidate[],
  chances: readonly number[],
  confidence: number,
): Reading => {
  const { found, beat, row, evidence } = c;
  const m = beat.lattice.metre;
  const best = all[0] ?? c;
  const { doubt, elsewhere } = doubtsOf(c, all, chances);
  const off = residuals(row, evidence, found.ticks, found.performance);
  const misfit = 1000 * Math.sqrt(off.reduce((s, e) => s + e * e, 0) / Math.max(1, off.length));
  const gaps = clean.events.map((e, i) => {
    const at = intAt(found.ticks, i);
    const held =
      take.lengthsMean && e.until !== undefined
        ? ticksAt(beat.map, e.until) - ticksAt(beat.map, e.at)
        : undefined;
    const until = rolledUntil(take, clean, e);
    return {
      at,
      ...(held === undefined ? {} : { held }),
      ...(until === undefined ? {} : { rolled: ticksAt(beat.map, until) - ticksAt(beat.map, e.at) }),
    };
  });
  const lengths = lengthsOf(gaps, beat.lattice, hints.letRing ?? false);
  const first = intAt(found.ticks, 0);
  const step = toNumber(tactus(m)) * TICKS;
  const { beats, zero } = tactusBeats(beat.map, step, first, intAt(found.ticks, found.ticks.length - 1));
  return {
    metre: m,
    tempo: 60 / steadyBeat(beats),
    upbeat: first < 0 ? toFraction(-first) : ZERO,
    ...(found.swing.ratio === 1
      ? {}
      : {
          swing: {
            ratio: found.swing.ratio,
            unit: toFraction(found.swing.of === 'half' ? TICKS / 8 : TICKS / 16),
          },
        }),
    grid: hints.grid ?? 'automatic',
    notes: notesOf(take, clean, found, lengths, doubt, elsewhere).sort(
      (a, b) => compare(a.onset, b.onset) || a.pitch - b.pitch || a.strike - b.strike,
    ),
    dropped: clean.dropped,
    misfit,
    confidence: found.forced === true ? FORCED : confidence,
    reason: reasonOf(
      found,
      beat.lattice,
      best.found,
      best.beat.lattice.metre,
      tempoOf(best.beat),
      tempoOf(beat),
    ),
    beats,
    firstBeat: zero,
    ...(c.period === undefined ? {} : { period: c.period }),
  };
};

/** The same for beats that a listener would call the same. */
export const beatName = (beat: Beat): string =>
  `${String(beat.lattice.cells[0]?.parts ?? 2)}:${String(Math.round(Math.log2(tempoOf(beat)) / 0.1))}`;

/** Cells a minute, for comparing readings. */
export const tempoOf = (beat: Beat): number => {
  const { beats, step } = beat.map;
  const cell = beat.lattice.cells[0]?.length ?? step;
  return (60 * step) / cell / steadyBeat(beats);
};

/** Times of tactus beats that cover a reading, and which of them is the first barline. */
const tactusBeats = (
  map: TimeMap,
  step: number,
  first: number,
  last: number,
): { beats: number[]; zero: number } => {
  const from = Math.min(0, Math.floor(first / step));
  const to = Math.max(from + 2, Math.floor(last / step) + 1);
  return {
    beats: Array.from({ length: to - from + 1 }, (_, k) => secondsAt(map, (from + k) * step)),
    // Not minus nought, which a file cannot hold.
    zero: 0 - from,
  };
};
