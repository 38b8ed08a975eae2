import { computed, effect } from '@preact/signals';
import type { Seconds } from '../../../core/foundation/units.ts';
import type { InstrumentId } from '../../../core/instruments/instruments.ts';
import type { MalletId } from '../../../core/instruments/mallets.ts';
import { positionAtSeconds, secondsAtPosition } from '../../../core/piece/strikePositions.ts';
import {
  clickOnTake,
  performOnTake,
  performTake,
  takeStart,
  together,
} from '../../../core/playback/compare.ts';
import type { KeptPlaying } from '../../../core/piece/keptPlaying.ts';
import type { Accompanied } from '../../../core/rehearse/accompanied.ts';
import type { Rendition } from '../../../core/playback/events.ts';
import { clockPulses, clocksFrom } from '../../../core/playback/midiClock.ts';
import { placesByTime } from '../../../core/playback/placeAt.ts';
import type { Reading } from '../../../core/reading/model/reading.ts';
import type { Score } from '../../../core/score/score.ts';
import type { Strike, Take } from '../../../core/take/take.ts';
import type { Playing, PlayOptions } from '../../sound/player.ts';
import type { Sound } from '../../sound/sound.ts';
import { complain } from '../commands/messages.ts';
import { setCursor, setHeard } from '../commands/playing.ts';
import { silentParts } from '../commands/settings.ts';
import type { Desk } from '../desk.ts';
import type { Hearing } from '../live.ts';
import { type HearOptions, heardScore, stretchOf } from './heardScore.ts';
import type { Sending } from './sending.ts';

/** Something that is playing, or was. */
export interface UnderWay {
  /** Real seconds since its beginning was heard, at a moment of the input clock; undefined before it began. */
  readonly sinceStart: (at: Seconds) => Seconds | undefined;
}

/** Plays takes and pages; one at a time; keeps the cursor. */
export interface Listening {
  readonly take: (take: Take, reading: Reading, instrument: InstrumentId, options?: HearOptions) => void;
  readonly score: (what: Hearing['what'], score: Score, options?: HearOptions) => void;
  /** The take and the page at once, the page in the take's own time. */
  readonly both: (
    take: Take,
    reading: Reading,
    score: Score,
    instrument: InstrumentId,
    options?: HearOptions,
  ) => void;
  /** What was struck, as it was struck. */
  readonly struck: (strikes: readonly Strike[], instrument: InstrumentId, mallet?: MalletId) => void;
  /** What was played to a piece and kept, all its parts together. */
  readonly played: (playing: KeptPlaying) => void;
  /**
   * A counted page to play along to.
   * @param speed 1 as written
   * @param onOver once, when it has been heard to its end (true) or was stopped (false)
   */
  readonly rehearse: (
    score: Score,
    sound: Accompanied,
    speed: number,
    onOver: (ended: boolean) => void,
  ) => UnderWay;
  readonly stop: () => void;
  /** Seconds of the take's clock that are being heard now; undefined when no take is heard. */
  readonly takeTime: () => Seconds | undefined;
  readonly dispose: () => void;
}

/** Softer than the take beside it, so that the ear can tell them apart. */
const PAGE_VELOCITY = 64;

/** @param sending where what is heard of a page is sent, too */
export const createListening = (sound: Sound, desk: Desk, sending?: () => Pick<Sending, 'of'>): Listening => {
  let current: Playing | undefined;
  let start: Seconds | undefined;
  let told:
    { readonly begun: (playing: Playing) => void; readonly over: (ended: boolean) => void } | undefined;
  // Parts fall silent and come back while the piece goes on.
  const silent = computed(() =>
    silentParts(
      { mutedParts: desk.mutedParts.value, aloneParts: desk.aloneParts.value },
      desk.plan.value?.parts.map(p => p.id) ?? [],
    ),
  );
  /**
   * The score as it is sent elsewhere while it is heard; nothing where it is not.
   * @param from seconds of the score at which the performance begins, after its `lead`
   * @param length of what is heard of it
   */
  const sent = (
    score: Score,
    from: Seconds,
    lead: Seconds,
    length = Infinity,
  ): Pick<PlayOptions, 'elsewhere' | 'pulses'> => {
    const elsewhere = sending?.().of(score);
    if (elsewhere === undefined) return {};
    const pulses = clocksFrom(clockPulses(score), from, lead);
    return { elsewhere, pulses: pulses.filter(({ seconds }) => seconds < lead + length - 1e-6) };
  };
  const stop = (ended = false): void => {
    const whom = told;
    told = undefined;
    current?.stop();
    current = undefined;
    start = undefined;
    if (desk.hearing.peek() !== undefined) desk.run(setHeard, undefined);
    whom?.over(ended);
  };
  const begin = (
    what: Hearing['what'],
    performance: Rendition,
    options: Omit<PlayOptions, 'onEnd'>,
    then: (() => void) | undefined,
    from?: Seconds,
    of?: string,
    startsAt?: number,
  ): void => {
    stop();
    const mine: Hearing = {
      what,
      ...(of === undefined ? {} : { of }),
      ...(startsAt === undefined ? {} : { startsAt }),
    };
    desk.run(setHeard, mine);
    void sound.start().then(started => {
      if (desk.hearing.peek() !== mine) return;
      if (!started.ok) {
        stop();
        desk.run(complain, started.problem);
        return;
      }
      start = from;
      current = sound.play(performance, {
        ...options,
        muted: silent.peek(),
        onEnd: () => {
          stop(true);
          then?.();
        },
      });
      if (current !== undefined) told?.begun(current);
    });
  };

  const onTake = (
    what: Hearing['what'],
    performance: Rendition,
    take: Take,
    reading: Reading,
    options: HearOptions,
  ): void => {
    const origin = takeStart(take, reading);
    const stretch = options.bar === undefined ? undefined : stretchOf(reading, options.bar);
    const seconds = (place: number): Seconds => Math.max(0, secondsAtPosition(reading, place) - origin);
    begin(
      what,
      performance,
      {
        rate: options.rate ?? 1,
        ...(options.from === undefined ? {} : { from: seconds(options.from) }),
        ...(stretch === undefined ? {} : { loop: { from: seconds(stretch.from), to: seconds(stretch.to) } }),
        ...(options.click === true ? { click: clickOnTake(reading, origin) } : {}),
        onPosition: at => {
          desk.run(setCursor, positionAtSeconds(reading, at + origin));
        },
      },
      options.then,
      origin + take.latency / 1000,
    );
  };

  const unfollow = effect(() => {
    // Read before anything plays, or the effect would follow nothing.
    const muted = silent.value;
    current?.setMuted(muted);
  });

  return {
    stop: () => {
      stop();
    },
    rehearse: (score, accompanied, speed, onOver) => {
      const { performance, click, lead, length, loop, startsAt, countsFrom, from } = accompanied;
      const placeAt = placesByTime(score);
      begin(
        'rehearsal',
        performance,
        {
          rate: speed,
          from: 0,
          ...(loop === undefined ? {} : { loop }),
          ...sent(score, from, lead, length),
          click,
          onPosition: at => {
            const counted = countsFrom + (at / lead) * (startsAt - countsFrom);
            desk.run(setCursor, at < lead ? counted : placeAt(at - lead + from));
          },
        },
        undefined,
        undefined,
        undefined,
        startsAt,
      );
      let mine: Playing | undefined;
      told = {
        begun: playing => {
          mine = playing;
        },
        over: onOver,
      };
      // It begins once the sound has started, and is asked after it was stopped, too.
      return { sinceStart: at => mine?.sinceStart(at) };
    },
    dispose: () => {
      unfollow();
      stop();
    },
    takeTime: () => (current === undefined || start === undefined ? undefined : start + current.position()),
    take: (take, reading, instrument, options = {}) => {
      const origin = takeStart(take, reading);
      onTake('take', performTake(take, instrument, origin, options.mallet), take, reading, options);
    },
    struck: (strikes, instrument, mallet) => {
      const from = strikes[0]?.at ?? 0;
      begin('phrase', performTake({ strikes, latency: 0 }, instrument, from, mallet), {}, undefined);
    },
    played: ({ parts }) => {
      const start = Math.min(0, ...parts.map(({ take }) => take.strikes[0]?.at ?? 0));
      const plan = desk.plan.peek();
      const all = parts.map(({ part, take, instrument }) => {
        // Struck with what the part is struck with now: a performance is heard as the page is.
        const asked = plan?.parts.find(one => one.id === part && one.instrument === instrument)?.mallet;
        return performTake(take, instrument, start, asked);
      });
      begin('playing', all.reduce(together, { events: [], duration: 0 }), {}, undefined);
    },
    both: (take, reading, score, instrument, options = {}) => {
      const origin = takeStart(take, reading);
      const played = performTake(take, instrument, origin, options.mallet);
      onTake(
        'both',
        together(played, performOnTake(score, reading, origin, PAGE_VELOCITY)),
        take,
        reading,
        options,
      );
    },
    score: (what, score, options = {}) => {
      const onPlace = (place: number): void => {
        desk.run(setCursor, place);
      };
      const { performance, playing, startsAt } = heardScore(score, options, onPlace, (from, lead) =>
        sent(score, from, lead),
      );
      begin(what, performance, playing, options.then, undefined, options.of, startsAt);
    },
  };
};
