import { parseMidi } from 'midi-file';
import createVerovioModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';
import { add, toNumber } from '../../core/foundation/fraction.ts';
import { midiOf } from '../../core/foundation/pitch.ts';
import { playedOut } from '../../core/score/repeats.ts';
import type { Score } from '../../core/score/score.ts';

/** One note, comparable: onset and length in crotchets, MIDI pitch. */
export const told = (at: number, length: number, pitch: number): string =>
  `${at.toFixed(4)} ${length.toFixed(4)} ${String(pitch)}`;

/**
 * Verovio plays a grace note about 29 ms before its note or the next grace note (so many crotchets), or takes the time from
 * the note at the very start; read off its output.
 */
const graceLength = (score: Score): number => score.tempo / 2048;

/**
 * Onset and length in crotchets and written pitch of every note of a score as it is played, repeats
 * written out and ties apart, in order of text.
 */
export const drawnNotes = (score: Score): string[] =>
  playedOut(score)
    .parts.flatMap(part => part.bars.flatMap(bar => bar.symbols))
    .flatMap(symbol => {
      const at = toNumber(add(symbol.onset, score.upbeat)) * 4;
      const end = at + toNumber(symbol.duration) * 4;
      const each = graceLength(score);
      const strokes = symbol.grace === undefined ? [] : [...(symbol.ruff ?? []).map(g => [g]), symbol.grace];
      const first = Math.max(0, at - strokes.length * each);
      const from = strokes.length === 0 ? at : first + strokes.length * each;
      return [
        ...strokes.flatMap((stroke, k) => stroke.map(g => told(first + k * each, each, midiOf(g)))),
        ...symbol.pitches.map(p => told(from, end - from, midiOf(p.spelled))),
      ];
    })
    .sort();

let toolkit: VerovioToolkit | undefined;

/** Verovio, an independent reader of MusicXML, with a document loaded. */
export const loaded = async (xml: string): Promise<VerovioToolkit> => {
  toolkit ??= new VerovioToolkit(await createVerovioModule());
  if (!toolkit.loadData(xml)) throw new Error('Verovio did not read the MusicXML');
  return toolkit;
};

/** Every note Verovio finds, repeats played, as `drawnNotes` tells them. */
export const foundNotes = (reader: VerovioToolkit): string[] => {
  const map = reader.renderToTimemap({ includeRests: false }) as {
    qstamp: number;
    on?: string[];
    off?: string[];
  }[];
  const begun = new Map<string, number>();
  const found: string[] = [];
  for (const moment of map) {
    for (const id of moment.off ?? []) {
      const from = begun.get(id) ?? Number.NaN;
      const { pitch } = reader.getMIDIValuesForElement(id);
      found.push(told(from, moment.qstamp - from, pitch));
    }
    for (const id of moment.on ?? []) begun.set(id, moment.qstamp);
  }
  return found.sort();
};

/** Strokes of a standard MIDI file by an independent parser: onset in crotchets and pitch. */
export const strokesOfMidi = (bytes: Buffer, digits: number): string[] => {
  const midi = parseMidi(bytes);
  const ppq = midi.header.ticksPerBeat ?? 0;
  return midi.tracks
    .flatMap(track => {
      let at = 0;
      return track.flatMap(event => {
        at += event.deltaTime;
        return event.type === 'noteOn' && event.velocity > 0
          ? [`${(at / ppq).toFixed(digits)} ${String(event.noteNumber)}`]
          : [];
      });
    })
    .sort();
};

/** Strokes of Verovio's own MIDI, ties joined. */
export const foundStrokes = (reader: VerovioToolkit, digits = 1): string[] =>
  strokesOfMidi(Buffer.from(reader.renderToMIDI(), 'base64'), digits);
