import { failed, type Problem, type Result } from '../../core/foundation/result.ts';
import { readStandardMidiFile } from '../../core/take/standardMidiFile.ts';
import type { Take } from '../../core/take/take.ts';
import { onOwnThread } from '../threads/ownThread.ts';
import type { MidiFileQuestion } from './midiFileWorker.ts';

/** Longest time one MIDI file may take, in ms: eight megabytes of controllers take about one second. */
const LIMIT = 20_000;

const KEPT = 'The file was left as it is, and what is open stays as it is.';
const tooLong = (name: string): Problem => ({
  kind: 'too-large',
  what: `Opening ${name} took too long and was stopped.`,
  kept: KEPT,
  next: 'Cut out the idea, save it as a MIDI file of its own, and open that.',
});
/**
 * A take out of a MIDI file, read on a thread of its own; on the page's where none can be had.
 * Problems: those of `readStandardMidiFile`, 'too-large' after twenty seconds.
 * @returns undefined when it was stopped
 */
export const openMidiFile = async (
  question: MidiFileQuestion,
  signal: AbortSignal,
): Promise<Result<Take> | undefined> => {
  const asked = await onOwnThread<Result<Take>>(
    () => new Worker(new URL('./midiFileWorker.ts', import.meta.url), { type: 'module' }),
    question,
    { limit: LIMIT, signal },
  );
  if (asked.ok) return asked.value;
  if (asked.why === 'time') return failed(tooLong(question.name));
  if (asked.why === 'stopped') return undefined;
  return readStandardMidiFile(question.bytes, question.name, question.options);
};
