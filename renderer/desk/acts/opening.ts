import { detailOf, type Result } from '../../../core/foundation/result.ts';
import { barInSet } from '../../../core/hearing/barSet.ts';
import type { StruckBar } from '../../../core/hearing/hear.ts';
import { takeOfBars } from '../../../core/hearing/takeOfBars.ts';
import { INSTRUMENTS } from '../../../core/instruments/instruments.ts';
import type { Pupil } from '../../../core/piece/pupil.ts';
import type { Take } from '../../../core/take/take.ts';
import { trimLeadIn } from '../../../core/take/trimLeadIn.ts';
import type { Asking } from '../asking.ts';
import { complain } from '../commands/messages.ts';
import { tunedBarsOf } from '../commands/learning.ts';
import { startPiece } from '../commands/open.ts';
import { DEMO_TAKES } from '../demoTakes.ts';
import type { Desk } from '../desk.ts';
import { newId } from '../newId.ts';
import { isSound } from '../../hearing/hearing.ts';
import type { MidiFileQuestion } from '../../reading/midiFileWorker.ts';
import type { FileWork } from './fileWork.ts';
import type { HearingAgain } from './hearingAgain.ts';
import { unreadable } from './unreadable.ts';

const LARGEST = 8 * 1024 * 1024;
/** Of a recording: ten minutes at 48 kHz, 24 bits, two channels. */
const LARGEST_SOUND = 180 * 1024 * 1024;

const titleOf = (name: string): string => {
  const bare = name
    .replace(/\.[a-z0-9]{2,4}$/i, '')
    .replace(/[-_]+/g, ' ')
    .trim();
  return bare === '' ? 'Idea' : bare.charAt(0).toUpperCase() + bare.slice(1);
};

/** Opens takes that lie in files. */
export interface Opening {
  /** Opens a standard MIDI file, or a recording of struck bars, as a take. What is open stays open when it is no good. */
  readonly file: (file: File) => Promise<void>;
  /** Opens one of the invented takes that come with the app. */
  readonly demo: (name: string) => Promise<void>;
  /** Gives up the file that is being read; nothing is opened. */
  readonly stop: () => void;
}

/** What takes its time over a file, each on a thread of its own; undefined when it was stopped. */
export interface FileReaders {
  /** The bars struck in a recording. */
  readonly hear: (file: File, signal: AbortSignal) => Promise<Result<readonly StruckBar[]> | undefined>;
  readonly midi: (question: MidiFileQuestion, signal: AbortSignal) => Promise<Result<Take> | undefined>;
}

/** @param again is told which recording became a take */
export const createOpening = (
  desk: Desk,
  asking: Asking,
  readers: FileReaders,
  work: FileWork,
  again: Pick<HearingAgain, 'opened'>,
): Opening => {
  const inTime = <T>(
    text: string,
    name: string,
    run: (signal: AbortSignal) => Promise<T | undefined>,
  ): Promise<T | undefined> => work.inTime({ text, stopped: `Stopped; ${name} was not opened.`, run });

  const openSound = async (file: File, pupil: Pupil | undefined): Promise<void> => {
    const { instrument } = desk.session.peek().play;
    const heard = await inTime(`Listening to ${file.name}`, file.name, signal => readers.hear(file, signal));
    if (heard === undefined) return;
    const { soundsAbove } = INSTRUMENTS[instrument];
    const about = { id: newId(), capturedAt: new Date().toISOString(), from: file.name, soundsAbove };
    const set = tunedBarsOf(desk.now(), instrument);
    const take = heard.ok
      ? takeOfBars(
          heard.value.map(bar => barInSet(set, bar)),
          about,
        )
      : heard;
    if (!(await start(take, file.name, pupil)) || !heard.ok || !take.ok) return;
    // Claps have no bars to be heard better.
    if (heard.value.every(bar => bar.unpitched !== true))
      again.opened(file, { take: take.value, instrument, begins: 0 });
  };

  const start = async (take: Result<Take>, name: string, pupil: Pupil | undefined): Promise<boolean> => {
    if (!take.ok) {
      desk.run(complain, take.problem);
      return false;
    }
    return asking.ask(startPiece, { take: trimLeadIn(take.value), title: titleOf(name), id: newId(), pupil });
  };

  const openBytes = async (
    bytes: Uint8Array,
    name: string,
    click: boolean | undefined,
    pupil: Pupil | undefined,
  ): Promise<void> => {
    const options = {
      id: newId(),
      capturedAt: new Date().toISOString(),
      ...(click === undefined ? {} : { click: click ? ('tempo-map' as const) : ('none' as const) }),
    };
    const take = await inTime(`Opening ${name}`, name, signal =>
      readers.midi({ bytes, name, options }, signal),
    );
    if (take !== undefined) await start(take, name, pupil);
  };
  return {
    file: async file => {
      const sounds = isSound(file);
      if (file.size > (sounds ? LARGEST_SOUND : LARGEST)) {
        desk.run(complain, {
          kind: 'too-large',
          what: `${file.name} is too large to be a take.`,
          kept: 'What is open stays as it is.',
          next: sounds
            ? 'Cut out the idea, save it as a file of its own, and open that.'
            : 'Choose a MIDI file of less than 8 MB.',
        });
        return;
      }
      const pupil = desk.pupil.peek();
      try {
        if (sounds) await openSound(file, pupil);
        else await openBytes(new Uint8Array(await file.arrayBuffer()), file.name, undefined, pupil);
      } catch (thrown) {
        desk.run(complain, unreadable(file.name, thrown));
      }
    },
    demo: async name => {
      const demo = DEMO_TAKES.find(d => d.file === name);
      if (demo === undefined) return;
      const pupil = desk.pupil.peek();
      try {
        const answer = await fetch(`./demo/${demo.file}`);
        if (!answer.ok) throw new Error(`status ${String(answer.status)}`);
        await openBytes(new Uint8Array(await answer.arrayBuffer()), demo.file, demo.click, pupil);
      } catch (thrown) {
        desk.run(complain, {
          kind: 'not-found',
          what: 'That idea of ours is missing from this copy of Malletloom.',
          kept: 'Nothing of yours was touched.',
          next: 'Strike some bars instead, or open a MIDI file.',
          detail: detailOf(thrown),
        });
      }
    },
    stop: work.stop,
  };
};
