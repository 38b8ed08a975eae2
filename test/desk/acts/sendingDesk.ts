import type { Score } from '../../../core/score/score.ts';
import { createListening } from '../../../renderer/desk/acts/listening.ts';
import { createSending } from '../../../renderer/desk/acts/sending.ts';
import { setOutputs, setSentTo } from '../../../renderer/desk/commands/sending.ts';
import { createDesk } from '../../../renderer/desk/desk.ts';
import { createMidiInput } from '../../../renderer/input/midiInput.ts';
import { createMidiOut } from '../../../renderer/input/midiOut.ts';
import type { Struck } from '../../../renderer/input/struck.ts';
import type { Sound } from '../../../renderer/sound/sound.ts';
import { installFakeWebMidi, type SentMessage } from '../../fakes/webMidi.ts';
import { AHEAD_OF_AUDIO, handBand } from '../../sound/handBand.ts';

/** Lets ports open. */
export const settle = (): Promise<void> => new Promise(resolve => setTimeout(resolve, 5));

/** A desk with MIDI out and in, a fake port and a band whose clock the test turns; in a page. */
export const sendingDesk = async () => {
  const midi = installFakeWebMidi(window);
  const desk = createDesk();
  const band = handBand();
  const gone: string[] = [];
  const struck: Struck[] = [];
  /** When what comes in comes, on the band's clock; undefined for its own time. */
  const arrives: { at?: number | undefined } = {};
  const port = midi.plugOut('Stage piano');
  const out = createMidiOut({
    onPorts: ports => {
      desk.run(setOutputs, ports);
    },
    onGone: lost => {
      listening.stop();
      desk.run(setSentTo, undefined);
      gone.push(lost.name);
    },
  });
  const sound = {
    start: () => Promise.resolve({ ok: true, value: undefined }),
    play: band.play,
  } as unknown as Sound;
  const listening: ReturnType<typeof createListening> = createListening(sound, desk, () => sending);
  const sending = createSending(desk, out, band.now, listening.stop);
  const input = createMidiInput({
    onStrike: one => {
      // The band's clock is the test's own: what comes in comes when the test says.
      const heard = { ...one, at: arrives.at ?? one.at };
      if (!sending.isEcho(heard)) struck.push(heard);
    },
    onRelease: () => undefined,
    onDevices: () => undefined,
    onProblem: () => undefined,
    onPlugged: () => {
      out.lookAgain();
    },
  });
  await input.start();
  return { midi, desk, band, gone, struck, arrives, port, out, listening, sending, input };
};
export type SendingDesk = Awaited<ReturnType<typeof sendingDesk>>;

/** When the piece begins, on the input clock: the player takes a tenth of a second to prepare. */
export const BEGINS = 0.1 + AHEAD_OF_AUDIO;
/** What was sent to the port, in seconds from the beginning of the piece. */
export const sentFrom = (
  { midi, port }: SendingDesk,
  begins = BEGINS,
): readonly { readonly at: number; readonly data: readonly number[] }[] =>
  midi.sent(port).map(({ timestamp, data }) => ({ at: timestamp / 1000 - begins, data }));
export const ofStatus = (
  messages: readonly SentMessage[],
  ...statuses: readonly number[]
): readonly SentMessage[] => messages.filter(({ data }) => statuses.includes(data[0] ?? 0));

export const hear = async ({ listening }: SendingDesk, score: Score, options = {}): Promise<void> => {
  listening.score('piece', score, options);
  await settle();
};
