import { effect } from '@preact/signals';
import type { Result } from '../../../core/foundation/result.ts';
import { barInSet } from '../../../core/hearing/barSet.ts';
import { CLAP_PITCH } from '../../../core/hearing/claps.ts';
import type { StruckBar } from '../../../core/hearing/hear.ts';
import { INSTRUMENTS } from '../../../core/instruments/instruments.ts';
import type { MicrophoneTells, MicrophoneWish, OpenMicrophone } from '../../hearing/microphone.ts';
import { heardElsewhere } from '../../hearing/microphoneProblems.ts';
import type { Struck, StruckBy } from '../../input/struck.ts';
import { addLearning, tunedBarsOf } from '../commands/learning.ts';
import { instrumentOfDevice } from '../commands/rehearsal.ts';
import { askForMicrophone, closeRoomEar, listenToRoom, setRoomSound } from '../commands/roomEar.ts';
import type { Desk } from '../desk.ts';
import type { RoomListening } from '../live.ts';
import { createOwnSound } from './ownSound.ts';
import { inputNow, type Striking } from './striking.ts';

/** The bars in the room, heard through the microphone. */
export interface RoomBars {
  /** Asks for the microphone and listens; the browser asks the person. Call it only when they chose it. */
  readonly listen: (how: RoomListening) => void;
  /** Takes another microphone, now and from now on. @param id the browser's own; empty for the system's choice */
  readonly listenThrough: (id: string) => void;
  readonly stop: () => void;
  /** A bar sounded from the app itself. */
  readonly sounded: (struck: Pick<Struck, 'at' | 'by'>) => void;
  /** Until everything struck up to now is remembered; undefined where it is already. */
  readonly remembered: () => Promise<void> | undefined;
  /** What is remembered of how it sounded, where it is still listened to. */
  readonly soundBetween: OpenMicrophone['soundBetween'];
  readonly dispose: () => void;
}

/** How the act reaches the world; a test hands in its own. */
export interface RoomBarsWorld {
  readonly open: (tells: MicrophoneTells, wish: MicrophoneWish) => Promise<Result<OpenMicrophone>>;
  /** The microphone chosen on this machine, by the browser's id; empty where the system may choose. */
  readonly microphone: { readonly stored: () => string; readonly store: (id: string) => void };
  /** Tells the other windows of the app that this one listens. */
  readonly announce: () => void;
  /** Calls back when another window begins to listen. @returns a way to stop */
  readonly onElsewhere: (stop: () => void) => () => void;
}

/** As it is remembered for every strike, and lined up with the click by. */
export const ROOM: StruckBy = { id: 'room', name: 'Bars in the room', source: 'microphone' };
/** Seconds after which a strike that was shown is surely remembered. */
const REMEMBERED_AFTER = 1;

export const createRoomBars = (
  desk: Desk,
  striking: Pick<Striking, 'strike' | 'onStruck'>,
  { open, microphone: chosen, announce, onElsewhere }: RoomBarsWorld,
): RoomBars => {
  const own = createOwnSound();
  let microphone: OpenMicrophone | undefined;
  /** The one chosen since the app was opened: it holds where nothing can be stored, too. */
  let picked: string | undefined;
  let lastShown = -Infinity;
  /** Which of several presses is the last. */
  let wanted = 0;

  /** A bar as it is written, and what it may have been instead. */
  const written = (bar: StruckBar): Pick<Struck, 'pitch' | 'nextBest' | 'perhapsNone'> => {
    if (bar.unpitched === true) return { pitch: CLAP_PITCH };
    const instrument = instrumentOfDevice(desk.now(), ROOM.name);
    const { sounding, nextBest, perhapsNone } = barInSet(tunedBarsOf(desk.now(), instrument), bar);
    const named = (sounds: number): number =>
      Math.max(0, Math.min(127, sounds - INSTRUMENTS[instrument].soundsAbove));
    return {
      pitch: named(sounding),
      ...(nextBest === undefined ? {} : { nextBest: named(nextBest) }),
      ...(perhapsNone === undefined ? {} : { perhapsNone }),
    };
  };
  const isOfTheRoom = ({ at }: StruckBar): boolean =>
    desk.roomEar.peek()?.through === 'headphones' || !own.soundsAt(at);

  const end = (problem?: Parameters<typeof closeRoomEar>[1]): void => {
    wanted += 1;
    microphone?.close();
    microphone = undefined;
    lastShown = -Infinity;
    desk.run(closeRoomEar, problem);
  };

  const tells: MicrophoneTells = {
    onAtOnce: bar => {
      if (!isOfTheRoom(bar)) return;
      lastShown = bar.at;
      // A clap is on no bar.
      if (bar.unpitched !== true) striking.onStruck(written(bar).pitch);
    },
    onStruck: bar => {
      if (!isOfTheRoom(bar)) return;
      // No clap is the pitch of a note.
      if (bar.unpitched === true && desk.pitching.peek() !== undefined) return;
      // Each bar struck once is no music.
      if (desk.learning.peek() !== undefined) {
        if (bar.unpitched !== true) desk.run(addLearning, bar.pitch);
        return;
      }
      striking.strike({ at: bar.at, ...written(bar), velocity: bar.velocity, by: ROOM });
    },
    onState: state => {
      desk.run(setRoomSound, state);
    },
    onGone: problem => {
      end(problem);
    },
  };

  const ends = [
    effect(() => {
      own.plays(desk.hearing.value !== undefined, inputNow());
    }),
    onElsewhere(() => {
      if (desk.roomEar.peek() !== undefined) end(heardElsewhere());
    }),
  ];

  const listen = (how: RoomListening): void => {
    end();
    const mine = wanted;
    const id = picked ?? chosen.stored();
    desk.run(askForMicrophone, how, id);
    announce();
    void open(tells, { hears: how.hears, microphone: id }).then(opened => {
      if (mine !== wanted) {
        if (opened.ok) opened.value.close();
        return;
      }
      if (!opened.ok) {
        end(opened.problem);
        return;
      }
      microphone = opened.value;
      desk.run(listenToRoom, { name: opened.value.name, microphones: opened.value.choices });
    });
  };

  return {
    listen,
    listenThrough: id => {
      picked = id;
      chosen.store(id);
      const ear = desk.roomEar.peek();
      if (ear !== undefined) listen(ear);
    },
    stop: () => {
      end();
    },
    sounded: ({ at, by }) => {
      if (by.source !== 'microphone') own.strikes(at);
    },
    remembered: () =>
      microphone === undefined || inputNow() - lastShown > REMEMBERED_AFTER
        ? undefined
        : microphone.toldTo(inputNow()),
    soundBetween: (from, to) => microphone?.soundBetween(from, to) ?? Promise.resolve(undefined),
    dispose: () => {
      end();
      for (const one of ends) one();
    },
  };
};
