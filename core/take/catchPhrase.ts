import { failed, ok, type Result } from '../foundation/result.ts';
import { deviation, mean } from '../foundation/statistics.ts';
import type { Milliseconds, Seconds } from '../foundation/units.ts';
import { clickFor } from './clickBeats.ts';
import { type HeardStrike, type Memory, strikesBetween } from './memory.ts';
import type { Click, Strike, Take, TakeSource } from './take.ts';

export interface Catch {
  /** First and last moment to keep, on the memory's clock, both included. */
  readonly from: Seconds;
  readonly to: Seconds;
  /** Sortable and unique. */
  readonly id: string;
  /** ISO 8601 date and time. */
  readonly capturedAt: string;
  readonly latency: Milliseconds;
  /** The click that ran, on the memory's clock. */
  readonly click?: Click | undefined;
}

/** Shorter than this a note-off is a trigger's reflex, not a length. */
const REFLEX: Seconds = 0.06;
/** Lengths that vary less than this share of their mean come from a machine's fixed gate. */
const FIXED_GATE = 0.1;

/**
 * Whether note-offs say how long notes were meant to be: only from MIDI, only when most strikes
 * were held longer than a trigger's reflex, and not all equally long.
 */
export const lengthsMean = (strikes: readonly HeardStrike[]): boolean => {
  const lengths = strikes.flatMap(({ at, until, source }) =>
    source === 'midi' && until !== undefined && until - at > REFLEX ? [until - at] : [],
  );
  return (
    strikes.length >= 3 &&
    lengths.length > strikes.length / 2 &&
    deviation(lengths) > FIXED_GATE * mean(lengths)
  );
};

const sourceOf = (strikes: readonly HeardStrike[]): TakeSource => {
  const sources = [...new Set(strikes.map(strike => strike.source))];
  return sources.length === 1 ? (sources[0] ?? 'mixed') : 'mixed';
};

/**
 * Makes a take of what the memory holds between two moments. Time 0 becomes the barline of the click
 * that the phrase begins in, or else its first strike. The memory itself is left as it is.
 * @returns the problem 'no-notes' when nothing was played then
 * @example
 * catchPhrase(EMPTY_MEMORY, { from: 0, to: 1, id: 't', capturedAt: '' }).problem.kind // => 'no-notes'
 */
export const catchPhrase = (memory: Memory, wanted: Catch): Result<Take> => {
  const strikes = strikesBetween(memory, wanted.from, wanted.to);
  const [first, last] = [strikes[0], strikes.at(-1)];
  if (first === undefined || last === undefined) {
    return failed({
      kind: 'no-notes',
      what: 'Nothing was played just now.',
      kept: 'All earlier takes are kept.',
      next: 'Play a few notes, then catch them.',
    });
  }
  const click = wanted.click === undefined ? undefined : clickFor(wanted.click, first.at, last.at);
  const zero = click?.beats[0] ?? first.at;
  return ok({
    id: wanted.id,
    capturedAt: wanted.capturedAt,
    source: sourceOf(strikes),
    from: [...new Set(strikes.map(strike => strike.name))].join(', '),
    ...(click === undefined
      ? {}
      : { click: { metre: click.metre, beats: click.beats.map(beat => beat - zero) } }),
    latency: wanted.latency,
    strikes: strikes.map(({ at, pitch, velocity, until, nextBest, perhapsNone }): Strike => ({
      at: at - zero,
      pitch,
      velocity,
      ...(nextBest === undefined ? {} : { nextBest }),
      ...(perhapsNone === undefined ? {} : { perhapsNone }),
      ...(until === undefined ? {} : { until: until - zero }),
    })),
    lengthsMean: lengthsMean(strikes),
  });
};
