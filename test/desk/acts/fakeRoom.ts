import { ok, type Result } from '../../../core/foundation/result.ts';
import { createRoomBars } from '../../../renderer/desk/acts/roomBars.ts';
import { createStriking } from '../../../renderer/desk/acts/striking.ts';
import type { RoomListening } from '../../../renderer/desk/live.ts';
import type {
  MicrophoneTells,
  MicrophoneWish,
  OpenMicrophone,
} from '../../../renderer/hearing/microphone.ts';
import { deskWithReader } from '../fixtures.ts';
import { fakeSound } from './fakeSound.ts';

export const now = (): number => performance.now() / 1000;
export const nextTurn = (): Promise<void> => new Promise(resolve => setTimeout(resolve, 0));

export const MICROPHONES = [
  { id: 'a', name: 'Desk microphone' },
  { id: 'b', name: 'Microphone at the bars' },
];

/** A room whose microphones open when they are told to. */
export const made = () => {
  const test = deskWithReader();
  const fake = fakeSound();
  const stored = { id: '' };
  const opened: {
    tells: MicrophoneTells;
    wish: MicrophoneWish;
    isClosed: boolean;
    answer: (said?: Result<never>) => void;
  }[] = [];
  const waits: (() => void)[] = [];
  const announced: string[] = [];
  let elsewhere: () => void = () => undefined;
  const striking = createStriking(
    fake.sound,
    test.desk,
    test.asking,
    struck => {
      room.sounded(struck);
    },
    () => room.remembered(),
  );
  striking.onStruck = pitch => {
    fake.order.push(`bar ${String(pitch)}`);
  };
  const room = createRoomBars(test.desk, striking, {
    microphone: { stored: () => stored.id, store: id => (stored.id = id) },
    open: (tells, wish) =>
      new Promise(done => {
        const one = {
          tells,
          wish,
          isClosed: false,
          answer: (said?: Result<never>) => {
            const microphone: OpenMicrophone = {
              name: 'Desk microphone',
              choices: MICROPHONES,
              soundBetween: (from, to) => {
                const samples = new Float32Array(Math.max(0, to - from) * 8000);
                return Promise.resolve({ from, recording: { rate: 8000, samples } });
              },
              toldTo: () => new Promise(resolve => waits.push(resolve)),
              close: () => {
                one.isClosed = true;
              },
            };
            done(said ?? ok(microphone));
          },
        };
        opened.push(one);
      }),
    announce: () => {
      announced.push('here');
    },
    onElsewhere: stop => {
      elsewhere = stop;
      return () => undefined;
    },
  });
  const listen = async (through: RoomListening['through'], hears: RoomListening['hears'] = 'bars') => {
    room.listen({ hears, through });
    const mine = opened.at(-1);
    mine?.answer();
    await nextTurn();
    if (mine === undefined) throw new Error('nothing was opened');
    return mine;
  };
  return {
    ...test,
    ...fake,
    striking,
    room,
    opened,
    waits,
    announced,
    stored,
    listen,
    elsewhere: () => elsewhere(),
  };
};
