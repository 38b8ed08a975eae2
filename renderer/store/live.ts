import { signal } from '@preact/signals';
import type { Problem } from '../../core/foundation/result.ts';
import { INSTRUMENTS } from '../../core/instruments/instruments.ts';
import { catchPhrase } from '../../core/take/catchPhrase.ts';
import {
  addRelease,
  addStrike,
  deviceGone,
  EMPTY_MEMORY,
  type Memory,
  type Phrase,
  phrases,
} from '../../core/take/memory.ts';
import type { Click } from '../../core/take/take.ts';
import type { RunningClick } from '../sound/click.ts';
import type { LetGo, Struck } from '../input/struck.ts';
import type { Sound } from '../sound/sound.ts';
import { latenessFor } from './calibration.ts';
import { notice, piece, playSettings } from './app.ts';
import { complain, startPiece, valueOr } from './change.ts';
import { newId } from './newId.ts';

/** All that was struck in the last five minutes. */
export const memory = signal<Memory>(EMPTY_MEMORY);
/** Names of what is plugged in. */
export const devices = signal<readonly string[]>([]);
/** Why there may be nothing to hear from MIDI, when nothing is plugged in. */
export const midiHint = signal<Problem | undefined>(undefined);
/** Where the click is: the beat in the bar from 0, or counting in (bar below 0). */
export const beat = signal<{ readonly beat: number; readonly inBar: number } | undefined>(undefined);
export const clickRunning = signal(false);
/** How many phrases, counted back from now, are kept by one catch. */
export const phrasesToCatch = signal(1);

/** Seconds on the clock of all input. */
export const inputNow = (): number => performance.now() / 1000;

/** The phrases that one catch would keep now. */
export const caught = (now: number): readonly Phrase[] =>
  phrases(memory.value, now, { silence: playSettings.value.silence }).slice(-phrasesToCatch.value);

export interface Live {
  readonly strike: (struck: Struck) => void;
  readonly release: (letGo: LetGo) => void;
  readonly gone: (device: string) => void;
  readonly toggleClick: () => void;
  readonly catchThat: () => void;
  /** Called with each strike's pitch, at once: the bars move. */
  onStruck: (pitch: number) => void;
}

/** @param also told of each strike after it has sounded and been remembered */
export const createLive = (sound: Sound, also: (struck: Struck) => void = () => undefined): Live => {
  let click: RunningClick | undefined;
  const ringing = new Map<string, () => void>();

  const stopClick = (): void => {
    click?.stop();
    clickRunning.value = false;
    beat.value = undefined;
  };

  const startClick = async (): Promise<void> => {
    const started = await sound.start();
    if (!started.ok) {
      complain(started.problem);
      return;
    }
    const { metre, bpm, countInBars } = playSettings.value;
    click = sound.startClick({
      metre,
      bpm,
      countInBars,
      onBeat: (count, inBar) => {
        if (clickRunning.value) beat.value = { beat: count, inBar };
      },
    });
    clickRunning.value = click !== undefined;
  };

  const clickHeard = (): Click | undefined => {
    const beats = click?.beats() ?? [];
    return click === undefined || beats.length < 2 ? undefined : { metre: click.metre, beats };
  };

  const live: Live = {
    onStruck: () => undefined,
    strike: struck => {
      const { instrument } = playSettings.value;
      const sounding = struck.pitch + INSTRUMENTS[instrument].soundsAbove;
      const key = `${struck.by.id}:${String(struck.pitch)}`;
      ringing.get(key)?.();
      ringing.set(key, sound.strike(instrument, sounding, struck.velocity));
      live.onStruck(struck.pitch);
      memory.value = addStrike(memory.value, {
        at: struck.at,
        pitch: struck.pitch,
        velocity: struck.velocity,
        device: struck.by.id,
        name: struck.by.name,
        source: struck.by.source,
      });
      also(struck);
    },
    release: letGo => {
      const key = `${letGo.by.id}:${String(letGo.pitch)}`;
      ringing.delete(key);
      memory.value = addRelease(memory.value, { at: letGo.at, pitch: letGo.pitch, device: letGo.by.id });
    },
    gone: device => {
      memory.value = deviceGone(memory.value, device);
    },
    toggleClick: () => {
      if (clickRunning.value) stopClick();
      else void startClick();
    },
    catchThat: () => {
      const wanted = caught(inputNow());
      const take = valueOr(
        catchPhrase(memory.value, {
          from: wanted[0]?.from ?? 0,
          to: wanted.at(-1)?.to ?? 0,
          id: newId(),
          capturedAt: new Date().toISOString(),
          latency: latenessFor(wanted.flatMap(phrase => phrase.strikes)),
          click: clickHeard(),
        }),
      );
      if (take === undefined) return;
      stopClick();
      void startPiece(take, 'Idea').then(() => {
        if (piece.value?.take === take) notice.value = 'Caught.';
      });
    },
  };
  return live;
};
