import { type Metre, showMetre } from '../../foundation/metre.ts';
import type { Take } from '../../take/take.ts';
import type { CleanTake } from '../../take/clean.ts';
import { intAt, realAt } from '../model/at.ts';
import type { Hints } from '../model/reading.ts';
import { cellRowFor } from '../onBeat/placeOnBeat.ts';
import type { Candidate } from '../onBeat/onBeat.ts';
import { findLag, type Lag } from '../repeats/lag.ts';
import { steadyBeat, waitedIn } from '../search/steadyBeat.ts';
import { latticeOf, TICKS } from '../search/lattice.ts';
import { OTHER_SPELLING, RHYTHMS_SPELT } from './constants.ts';
import { periodOf } from './period.ts';
import { BARLINE_STEP, type Rhythm, type Spelling, spellingsOf, USUAL_METRES } from './spelling.ts';

/**
 * A rhythm written as musicians would write it: candidates in other values, beats, metres and from other
 * barlines in place of those under which the beat was found. A rhythm costs what its cheapest candidate
 * costs; its likeliest spelling has that cost, the next likeliest in other values or beats so much more.
 */
export const spelt = (
  candidates: readonly Candidate[],
  whole: (c: Candidate) => number,
  take: Take,
  clean: CleanTake,
  hints: Hints,
  lag: Lag | undefined,
): Candidate[] => {
  const rhythms = new Map<string, Candidate>();
  for (const c of candidates) {
    const cost = c.cost + whole(c);
    const name = rhythmOf(c);
    if (cost < (rhythms.get(name)?.cost ?? Infinity)) rhythms.set(name, { ...c, cost, rhythm: name });
  }
  // What lies far behind is never offered, and only speaks for where notes may be.
  return [...rhythms.values()]
    .sort((a, b) => a.cost - b.cost)
    .flatMap((c, i) => (i < RHYTHMS_SPELT ? pagesOf(c, take, clean, hints, lag) : [c]));
};

/** Gaps in units of the largest power of two that divides them all: the same in half and double values. */
const rhythmOf = (c: Candidate): string => {
  const { ticks } = c.found;
  const origin = intAt(ticks, 0);
  let bits = 0;
  for (const t of ticks) bits |= t - origin;
  const unit = bits === 0 ? 1 : bits & -bits;
  return `${String(c.found.swing.ratio === 1)}:${Array.from(ticks, t => (t - origin) / unit).join()}`;
};

const pagesOf = (
  c: Candidate,
  take: Take,
  clean: CleanTake,
  hints: Hints,
  lag: Lag | undefined,
): Candidate[] => {
  // Pins count from the barline under which the beat was found.
  if ((hints.pins ?? []).length > 0 || c.found.forced === true) return [c];
  const spellings = spellingsOf(rhythmIn(c, take, clean, hints, lag));
  const [best] = spellings;
  if (best === undefined) return [c];
  const seen = new Set<string>();
  const pages: Candidate[] = [];
  for (const s of spellings) {
    if (s.cost > best.cost + OTHER_SPELLING) break;
    const kind = s.metre.groups === undefined ? latticeOf(s.metre).cells[0]?.parts : showMetre(s.metre);
    const key = `${String(s.scale)}:${String(kind)}`;
    if (seen.has(key)) continue;
    seen.add(key);
    pages.push({ ...written(c, s), cost: c.cost + s.cost - best.cost });
  }
  return pages;
};

const rhythmIn = (c: Candidate, take: Take, clean: CleanTake, hints: Hints, lag: Lag | undefined): Rhythm => {
  const { ticks, swing } = c.found;
  const n = ticks.length;
  const velocity = clean.events.map(e => e.velocity);
  const mean = velocity.reduce((sum, v) => sum + v, 0) / n;
  const spread = Math.sqrt(velocity.reduce((sum, v) => sum + (v - mean) ** 2, 0) / n) || 1;
  const tick = steadyBeat(c.beat.map.beats) / c.beat.map.step;
  // Swung pairs say which places are on the beat, and swung values are quavers or semiquavers.
  const swings = swing.ratio !== 1;
  const pair = swing.of === 'half' ? TICKS / 4 : TICKS / 8;
  const chosen = hints.tempo !== undefined || (hints.grid ?? 'automatic') !== 'automatic';
  const scales = swings ? (swing.of === 'half' ? [0.5, 1] : [1, 2]) : [0.5, 1, 2];
  const first = hints.firstBeatStrike;
  const barline =
    first === undefined ? undefined : ticks[clean.events.findIndex(e => e.strikes.includes(first))];
  return {
    ticks,
    tick,
    period: periodIn(c, take, clean, lag, tick),
    loud: velocity.map(v => (v - mean) / spread),
    scales: chosen ? [1] : scales,
    metres: metresFor(c, hints, swings),
    ...(barline === undefined ? {} : { onBarline: barline }),
    barlineStep: scale => (swings ? pair * scale : BARLINE_STEP),
  };
};

/** Ticks after which the idea comes again, or 0; where the player waited, it may not come again after the same time. */
const periodIn = (c: Candidate, take: Take, clean: CleanTake, lag: Lag | undefined, tick: number): number => {
  const { ticks } = c.found;
  if (lag !== undefined) return periodOf(ticks, lag);
  if (c.period !== undefined) return c.period * c.beat.lattice.bar;
  if (!waitedIn(c.beat.map.beats)) return 0;
  const inTime = findLag(
    take,
    clean.events,
    Float64Array.from(ticks, t => t * tick),
  );
  return inTime === undefined ? 0 : periodOf(ticks, inTime);
};

const metresFor = (c: Candidate, hints: Hints, swings: boolean): readonly Metre[] => {
  const parts = c.beat.lattice.cells[0]?.parts;
  if (hints.metre !== undefined) return isEven(hints.metre) ? [hints.metre] : [];
  const bound = swings || hints.tempo !== undefined;
  return USUAL_METRES.filter(m => {
    const cell = latticeOf(m).cells[0];
    return cell !== undefined && (!bound || (m.groups === undefined && cell.parts === parts));
  });
};

const isEven = (m: Metre): boolean => {
  const { cells } = latticeOf(m);
  return cells.every(c => c.length === cells[0]?.length);
};

/** The same strikes in another spelling: from the next barline where the first strike is a short upbeat to it. */
const written = (c: Candidate, { scale, metre: m, barline }: Spelling): Candidate => {
  const lattice = latticeOf(m);
  const { bar } = lattice;
  const { swing, performance } = c.found;
  // Swung quavers in half values are swung semiquavers, and the other way round.
  const turned = swing.ratio !== 1 && scale !== 1;
  const ticks = c.found.ticks.map(t => t * scale);
  const first = intAt(ticks, 0);
  const lead = (((barline - first) % bar) + bar) % bar;
  const zero = lead <= bar / 2 ? first + lead : first + lead - bar;
  const step = c.beat.map.step * scale;
  const map = { ...c.beat.map, step, zero: c.beat.map.zero + zero / step };
  const { period: bars, ...rest } = c;
  const period = ((bars ?? 0) * c.beat.lattice.bar * scale) / bar;
  const at = c.evidence.at;
  return {
    ...rest,
    ...(period > 0 && Number.isInteger(period) ? { period } : {}),
    found: {
      ...c.found,
      ticks: ticks.map(t => t - zero),
      ...(turned
        ? {
            swing: { ...swing, of: swing.of === 'half' ? 'quarter' : 'half' },
            performance: {
              ...performance,
              swingHalf: performance.swingQuarter,
              swingQuarter: performance.swingHalf,
            },
          }
        : {}),
    },
    row: cellRowFor(lattice, map, realAt(at, 0), realAt(at, at.length - 1)),
    beat: { ...c.beat, lattice, map },
  };
};
