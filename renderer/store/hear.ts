import { toNumber } from '../../core/foundation/fraction.ts';
import { INSTRUMENTS, type InstrumentId } from '../../core/parts/instruments.ts';
import type { Performance } from '../../core/playback/events.ts';
import { perform, scoreLength, secondsAt } from '../../core/playback/perform.ts';
import type { Score } from '../../core/score/score.ts';
import type { Take } from '../../core/take/take.ts';
import type { Sound } from '../sound/sound.ts';
import { cursor, type Hearing, hearing } from './app.ts';
import { complain } from './change.ts';

/** The take as it was played, on an instrument. */
export const performTake = (take: Take, instrument: InstrumentId): Performance => {
  const first = take.strikes[0]?.at ?? 0;
  const events = take.strikes.map(strike => ({
    at: strike.at - first,
    duration: Math.max(0.05, (strike.until ?? strike.at + 0.3) - strike.at),
    pitch: strike.pitch + INSTRUMENTS[instrument].soundsAbove,
    velocity: strike.velocity,
    instrument,
  }));
  return { events, length: (events.at(-1)?.at ?? 0) + 0.8 };
};

/** Seconds to places, for the cursor: a table over half beats, straight lines between. */
const placesOf = (score: Score): ((seconds: number) => number) => {
  const length = toNumber(scoreLength(score));
  const upbeat = toNumber(score.upbeat);
  const table: { seconds: number; at: number }[] = [];
  for (let k = 0; k <= Math.ceil(length * 32); k++) {
    table.push({ seconds: secondsAt(score, { n: k, d: 32 }), at: k / 32 - upbeat });
  }
  return seconds => {
    let low = 0;
    let high = table.length - 1;
    while (low < high - 1) {
      const middle = (low + high) >> 1;
      if ((table[middle]?.seconds ?? 0) <= seconds) low = middle;
      else high = middle;
    }
    const a = table[low];
    const b = table[high];
    if (a === undefined || b === undefined || b.seconds <= a.seconds) return a?.at ?? 0;
    return a.at + ((seconds - a.seconds) / (b.seconds - a.seconds)) * (b.at - a.at);
  };
};

/** Plays takes and pages; one at a time; keeps the cursor. */
export interface Listening {
  readonly take: (take: Take, instrument: InstrumentId, rate: number, then?: () => void) => void;
  readonly score: (what: Hearing['what'], score: Score, rate: number, from?: number) => void;
  readonly stop: () => void;
}

export const createListening = (sound: Sound): Listening => {
  let current: { stop: () => void } | undefined;
  const stop = (): void => {
    current?.stop();
    current = undefined;
    hearing.value = undefined;
    cursor.value = undefined;
  };
  const start = (
    what: Hearing['what'],
    performance: Performance,
    rate: number,
    from: number,
    onPosition: (seconds: number) => void,
    onEnd: () => void,
  ): void => {
    stop();
    hearing.value = { what };
    void sound.start().then(started => {
      if (hearing.value?.what !== what) return;
      if (!started.ok) {
        stop();
        complain(started.problem);
        return;
      }
      current = sound.play(performance, {
        rate,
        from,
        onPosition,
        onEnd: () => {
          stop();
          onEnd();
        },
      });
    });
  };
  return {
    stop,
    take: (take, instrument, rate, then) => {
      start('take', performTake(take, instrument), rate, 0, () => undefined, then ?? (() => undefined));
    },
    score: (what, score, rate, from = 0) => {
      const placeAt = placesOf(score);
      const begin = secondsAt(score, { n: Math.round(from * 64), d: 64 });
      start(
        what,
        perform(score),
        rate,
        begin,
        seconds => {
          cursor.value = placeAt(seconds);
        },
        () => undefined,
      );
    },
  };
};
