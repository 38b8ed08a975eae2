import { INSTRUMENTS } from '../../../core/instruments/instruments.ts';
import { catchPhrase } from '../../../core/take/catchPhrase.ts';
import type { Click, Take } from '../../../core/take/take.ts';
import type { LetGo, Struck } from '../../input/struck.ts';
import type { RunningClick } from '../../sound/click.ts';
import type { Sound } from '../../sound/sound.ts';
import type { Asking } from '../asking.ts';
import { complain } from '../commands/messages.ts';
import { soundOfDevice } from '../commands/rehearsal.ts';
import { onceMore } from '../commands/onceMore.ts';
import { startPiece } from '../commands/open.ts';
import {
  caught,
  forgetChosen,
  forgetDevice,
  latenessFor,
  metreChosen,
  release,
  setBeat,
  setClick,
  strike,
} from '../commands/playing.ts';
import type { Desk } from '../desk.ts';
import { newId } from '../newId.ts';
import { type DeskState, withLive } from '../state.ts';

/** Seconds on the clock of all input. */
export const inputNow = (): number => performance.now() / 1000;

/** Strikes as they come: sounded, shown, remembered; and the click they are struck to. */
export interface Striking {
  readonly strike: (struck: Struck) => void;
  readonly release: (letGo: LetGo) => void;
  readonly gone: (device: string) => void;
  readonly toggleClick: () => void;
  /** @param title of the piece it becomes; 'Idea' unless said, in the words of who plays */
  readonly catchThat: (title?: string) => void;
  /** What would be caught is the idea on the desk, played once more. */
  readonly onceMore: () => void;
  /** The click that goes or went last, with the beats heard so far; undefined before two. */
  readonly click: () => Click | undefined;
  /** Called with each strike's pitch, at once: the tone bars move. */
  onStruck: (pitch: number) => void;
}

/**
 * @param also told of each strike after it has sounded and been remembered
 * @param remembered until all that was struck up to now has come here; undefined where it has
 * @param isCaught told of each take that lies on the desk, and of where its clock is 0 on that of all input
 */
export const createStriking = (
  sound: Sound,
  desk: Desk,
  asking: Asking,
  also: (struck: Struck) => void = () => undefined,
  remembered: () => Promise<void> | undefined = () => undefined,
  isCaught: (take: Take, zero: number) => void = () => undefined,
): Striking => {
  let click: RunningClick | undefined;
  const ringing = new Map<string, () => void>();

  const stopClick = (): void => {
    click?.stop();
    desk.run(setClick, false);
  };

  const startClick = async (): Promise<void> => {
    const started = await sound.start();
    if (!started.ok) {
      desk.run(complain, started.problem);
      return;
    }
    const { metre, bpm, countInBars } = desk.playSettings.peek();
    click = sound.startClick({
      metre,
      bpm,
      countInBars,
      // A microphone in the room must hear no bar in it.
      isUnpitched: () => desk.roomEar.peek() !== undefined,
      onBeat: (beat, inBar) => {
        desk.run(setBeat, { beat, inBar });
      },
    });
    desk.run(setClick, click !== undefined);
  };

  const clickHeard = (): Click | undefined => {
    const beats = click?.beats() ?? [];
    return click === undefined || beats.length < 2 ? undefined : { metre: click.metre, beats };
  };

  const soundAndShow = (struck: Struck): void => {
    const { instrument, mallet } = soundOfDevice(desk.now(), struck.by.name);
    const sounding = struck.pitch + INSTRUMENTS[instrument].soundsAbove;
    const key = `${struck.by.id}:${String(struck.pitch)}`;
    ringing.get(key)?.();
    ringing.set(key, sound.strike(instrument, sounding, struck.velocity, mallet));
    striking.onStruck(struck.pitch);
  };

  /**
   * The phrases that are to be caught as a take; a problem is said.
   * @param pressed the desk when it was asked for: a strike that came since belongs to it, another choice or pupil does not
   */
  const takeNow = (pressed: DeskState): { take: Take; zero: number } | undefined => {
    const now = desk.now();
    const wanted = caught(withLive(pressed, { memory: now.live.memory }), inputNow());
    const take = catchPhrase(now.live.memory, {
      from: wanted[0]?.from ?? 0,
      to: wanted.at(-1)?.to ?? 0,
      id: newId(),
      capturedAt: new Date().toISOString(),
      latency: latenessFor(
        now,
        wanted.flatMap(phrase => phrase.strikes),
      ),
      click: clickHeard(),
    });
    if (!take.ok) {
      desk.run(complain, take.problem);
      return undefined;
    }
    stopClick();
    desk.run(forgetChosen);
    return { take: take.value, zero: (wanted[0]?.from ?? 0) - (take.value.strikes[0]?.at ?? 0) };
  };

  const catchNow = (pressed: DeskState, title: string): void => {
    const now = takeNow(pressed);
    if (now === undefined) return;
    const { take, zero } = now;
    const { pupil } = pressed.session;
    const metre = metreChosen(pressed.session);
    const base = { title, id: newId(), pupil, notice: 'Caught.' };
    void asking
      .ask(startPiece, { ...base, take, ...(metre === undefined ? {} : { metre }) })
      .then(isThere => {
        if (isThere) isCaught(take, zero);
      });
  };

  const onceMoreNow = (pressed: DeskState): void => {
    const now = takeNow(pressed);
    if (now !== undefined) void asking.ask(onceMore, now.take);
  };

  const whenRemembered = (act: (pressed: DeskState) => void): void => {
    const pressed = desk.now();
    const waiting = remembered();
    if (waiting === undefined) act(pressed);
    else
      void waiting.then(() => {
        act(pressed);
      });
  };

  const striking: Striking = {
    onStruck: () => undefined,
    click: clickHeard,
    strike: struck => {
      // A bar in the room has sounded by itself, and was shown when it was struck.
      if (struck.by.source !== 'microphone') soundAndShow(struck);
      const { by, ...blow } = struck;
      desk.run(strike, { ...blow, device: by.id, name: by.name, source: by.source });
      also(struck);
    },
    release: letGo => {
      ringing.delete(`${letGo.by.id}:${String(letGo.pitch)}`);
      desk.run(release, { at: letGo.at, pitch: letGo.pitch, device: letGo.by.id });
    },
    gone: device => {
      desk.run(forgetDevice, device);
    },
    toggleClick: () => {
      if (desk.clickRunning.peek()) stopClick();
      else void startClick();
    },
    catchThat: (title = 'Idea') => {
      whenRemembered(pressed => {
        catchNow(pressed, title);
      });
    },
    onceMore: () => {
      whenRemembered(onceMoreNow);
    },
  };
  return striking;
};
