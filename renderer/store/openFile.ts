import { detailOf } from '../../core/foundation/result.ts';
import { readStandardMidiFile } from '../../core/take/standardMidiFile.ts';
import { trimLeadIn } from '../../core/take/trimLeadIn.ts';
import { complain, startPiece, valueOr } from './change.ts';
import { DEMO_TAKES } from './demo.ts';
import { newId } from './newId.ts';

const LARGEST = 8 * 1024 * 1024;

const titleOf = (name: string): string => {
  const bare = name
    .replace(/\.midi?$/i, '')
    .replace(/[-_]+/g, ' ')
    .trim();
  return bare === '' ? 'Idea' : bare.charAt(0).toUpperCase() + bare.slice(1);
};

const openBytes = async (bytes: Uint8Array, name: string, click: boolean | undefined): Promise<void> => {
  const take = valueOr(
    readStandardMidiFile(bytes, name, {
      id: newId(),
      capturedAt: new Date().toISOString(),
      ...(click === undefined ? {} : { click: click ? 'tempo-map' : 'none' }),
    }),
  );
  if (take !== undefined) await startPiece(trimLeadIn(take), titleOf(name));
};

/** Opens a standard MIDI file as a take. What is open stays open when the file is no good. */
export const openFile = async (file: File): Promise<void> => {
  if (file.size > LARGEST) {
    complain({
      kind: 'too-large',
      what: `${file.name} is too large to be a take.`,
      kept: 'What is open stays as it is.',
      next: 'Choose a MIDI file of less than 8 MB.',
    });
    return;
  }
  try {
    await openBytes(new Uint8Array(await file.arrayBuffer()), file.name, undefined);
  } catch (thrown) {
    complain({
      kind: 'not-found',
      what: `${file.name} could not be read from the disk.`,
      kept: 'What is open stays as it is.',
      next: 'Check that the file is still there and try again.',
      detail: detailOf(thrown),
    });
  }
};

/** Opens one of the invented takes that come with the app. */
export const openDemo = async (name: string): Promise<void> => {
  const demo = DEMO_TAKES.find(d => d.file === name);
  if (demo === undefined) return;
  try {
    const answer = await fetch(`./demo/${demo.file}`);
    if (!answer.ok) throw new Error(`status ${String(answer.status)}`);
    await openBytes(new Uint8Array(await answer.arrayBuffer()), demo.file, demo.click);
  } catch (thrown) {
    complain({
      kind: 'not-found',
      what: 'That idea of ours is missing from this copy of Malletloom.',
      kept: 'Nothing of yours was touched.',
      next: 'Strike some bars instead, or open a MIDI file.',
      detail: detailOf(thrown),
    });
  }
};
