import type { Result } from '../../core/foundation/result.ts';
import { type MidiFileOptions, readStandardMidiFile } from '../../core/take/standardMidiFile.ts';
import type { Take } from '../../core/take/take.ts';

/** A MIDI file to be read as a take. */
export interface MidiFileQuestion {
  readonly bytes: Uint8Array;
  readonly name: string;
  readonly options: MidiFileOptions;
}

self.addEventListener('message', (event: MessageEvent<MidiFileQuestion>) => {
  const { bytes, name, options } = event.data;
  const answer: Result<Take> = readStandardMidiFile(bytes, name, options);
  self.postMessage(answer);
});
