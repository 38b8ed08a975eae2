import { add, ceil, divide, floor, subtract, times, toNumber, ZERO } from '../foundation/fraction.ts';
import { barLength, tactus } from '../foundation/metre.ts';
import type { Seconds } from '../foundation/units.ts';
import { INSTRUMENTS, type InstrumentId } from '../instruments/instruments.ts';
import type { MalletId } from '../instruments/mallets.ts';
import { secondsAtPosition } from '../piece/strikePositions.ts';
import type { Reading } from '../reading/model/reading.ts';
import type { Score } from '../score/score.ts';
import type { Take } from '../take/take.ts';
import type { Rendition, SoundingEvent } from './events.ts';
import { notesOf, scoreLength, strokesOfSign } from './perform.ts';
import { secondsAtOnset, swungOnset } from './seconds.ts';

/** A click to be heard with a performance: its beats, and which of them begin a bar. */
export interface HeardClick {
  readonly beats: readonly Seconds[];
  readonly accents: readonly boolean[];
}

/** The moment of the take from which it is heard: its first strike, or the first bar's start if that is earlier. */
export const takeStart = (take: Take, reading: Reading): Seconds => {
  const first = (take.strikes[0]?.at ?? 0) - take.latency / 1000;
  return Math.min(first, secondsAtPosition(reading, -toNumber(reading.upbeat)));
};

/** Heard after the last strike, so that it can ring. */
const TAIL: Seconds = 0.8;

/**
 * The take as it was played, on an instrument, from `start` of its clock.
 * @example
 * const take = { latency: 20, strikes: [{ at: 1.02, pitch: 60, velocity: 90 }] };
 * performTake(take, 'xylophone', 1).events.map(e => [Math.round(1000 * e.seconds), e.pitch]) // => [[0, 72]]
 */
export const performTake = (
  take: Pick<Take, 'strikes' | 'latency'>,
  instrument: InstrumentId,
  start: Seconds,
  mallet?: MalletId,
): Rendition => {
  const late = take.latency / 1000;
  const events = take.strikes.map(strike => ({
    seconds: strike.at - late - start,
    duration: Math.max(0.05, (strike.until ?? strike.at + 0.3) - strike.at),
    pitch: strike.pitch + INSTRUMENTS[instrument].soundsAbove,
    velocity: strike.velocity,
    instrument,
    ...(mallet === undefined ? {} : { mallet }),
  }));
  return { events, duration: (events.at(-1)?.seconds ?? 0) + TAIL };
};

/** The page played in the take's own time: every note where its written place lies by the take's beats. */
export const performOnTake = (score: Score, reading: Reading, start: Seconds, velocity = 84): Rendition => {
  const events: SoundingEvent[] = score.parts
    .flatMap(part => notesOf(part, score.upbeat).map(note => ({ note, mallet: part.mallet })))
    .flatMap(({ note, mallet }) => {
      const from = note.onset.n / note.onset.d - toNumber(score.upbeat);
      const at = secondsAtPosition(reading, swungPosition(from, score)) - start;
      const end = secondsAtPosition(reading, from + toNumber(note.duration)) - start;
      const stroke = {
        seconds: Math.max(0, at),
        duration: Math.max(0.05, end - at),
        pitch: note.sounding,
        velocity,
        instrument: note.instrument,
        ref: note.ref,
        ...(mallet === undefined ? {} : { mallet }),
      };
      return strokesOfSign(stroke, note);
    })
    .sort((a, b) => a.seconds - b.seconds);
  return { events, duration: (events.at(-1)?.seconds ?? 0) + TAIL };
};

const swungPosition = (position: number, score: Score): number =>
  score.swing === undefined
    ? position
    : toNumber(swungOnset({ n: Math.round(position * 192), d: 192 }, score.swing));

/**
 * Two performances at once.
 * @example
 * together({ events: [], duration: 9 }, { events: [], duration: 3 }).duration // => 9
 */
export const together = (a: Rendition, b: Rendition): Rendition => ({
  events: [...a.events, ...b.events].sort((x, y) => x.seconds - y.seconds),
  duration: Math.max(a.duration, b.duration),
});

const beatsPerBar = (metre: Reading['metre']): number =>
  Math.max(1, Math.round(toNumber(divide(barLength(metre), tactus(metre)))));

/** The reading's beats as a click for the take, from `start` on. */
export const clickOnTake = (reading: Reading, start: Seconds): HeardClick => {
  const perBar = beatsPerBar(reading.metre);
  const all = reading.beats.map((at, i) => ({
    at: at - start,
    accent: (i - reading.firstBeat) % perBar === 0,
  }));
  const heard = all.filter(beat => beat.at >= -0.001);
  return { beats: heard.map(b => Math.max(0, b.at)), accents: heard.map(b => b.accent) };
};

/** The beats of a score as a click. */
export const clickOfScore = (score: Score): HeardClick => {
  const end = subtract(scoreLength(score), score.upbeat);
  const bars = score.parts[0]?.bars ?? [];
  const changes = (score.metres ?? []).flatMap(({ bar, metre }) => {
    const from = bars[bar]?.start;
    return from === undefined ? [] : [{ from, metre }];
  });
  const stretches = [{ from: ZERO, metre: score.metre }, ...changes];
  const beats = stretches.flatMap(({ from, metre }, i) => {
    const step = tactus(metre);
    const perBar = beatsPerBar(metre);
    const before = i === 0 ? floor(divide(score.upbeat, step)) : 0;
    const count = ceil(divide(subtract(stretches[i + 1]?.from ?? end, from), step));
    return Array.from({ length: before + count }, (_, k) => k - before).map(k => ({
      at: secondsAtOnset(score, add(add(from, times(step, k)), score.upbeat)),
      accent: k % perBar === 0,
    }));
  });
  return { beats: beats.map(b => b.at), accents: beats.map(b => b.accent) };
};
