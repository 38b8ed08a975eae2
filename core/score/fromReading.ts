import { fraction, less, multiply } from '../foundation/fraction.ts';
import { barLength } from '../foundation/metre.ts';
import { named } from '../foundation/enharmonic.ts';
import { type Key, spell, toScale, writable } from '../foundation/key.ts';
import { INSTRUMENTS, type InstrumentId } from '../instruments/instruments.ts';
import { barsBetween, glissandoIn } from '../motif/glissando.ts';
import { spellingOf } from '../motif/spellNotes.ts';
import type { PlacedGlissando, PlacedNote } from '../plan/placed.ts';
import type { Spelled } from '../foundation/pitch.ts';
import { finish, type Sliced } from '../foundation/sliced.ts';
import type { GraceStroke, ReadGlissando, Reading, ReadNote } from '../reading/model/reading.ts';
import type { MalletId } from '../instruments/mallets.ts';
import { barsNeeded, clefFor, engravePartInSlices } from './engrave.ts';
import { markMallets } from './malletMark.ts';
import type { Score } from './score.ts';

const graceIn = (k: Key, grace: GraceStroke, note: ReadNote): Spelled =>
  named(grace.pitch, note.name) ?? spell(k, grace.pitch);

/** The bars between are told as the motif tells them, so that the page is heard as the piece will be. */
const drawnIn = (k: Key, note: ReadNote, gliss: ReadGlissando): PlacedGlissando => ({
  to: spell(k, gliss.to),
  between: barsBetween(k, toScale(k, note.pitch), glissandoIn(k, gliss)),
});

/** The notes of a reading, spelled for a key; `ref` is the strike's index. */
export const notesOfReading = (reading: Reading, k: Key): readonly PlacedNote[] => {
  const spelled = spellingOf(reading.notes, k);
  return reading.notes.map((note, i) => ({
    onset: note.onset,
    duration: note.duration,
    pitch: spelled[i] ?? spell(k, note.pitch),
    ref: String(note.strike),
    ...(note.grace === undefined ? {} : { grace: graceIn(k, note.grace, note) }),
    ...(note.ruff === undefined ? {} : { ruff: note.ruff.map(g => graceIn(k, g, note)) }),
    ...(note.roll === undefined ? {} : { roll: true }),
    ...(note.gliss === undefined ? {} : { gliss: drawnIn(k, note, note.gliss) }),
  }));
};

/**
 * A reading as a one-part score, for the Write page and for command-line exports.
 * @param most how many full bars are written at most: the beginning of a long reading costs no more than that
 * @param asked what it was struck with; the usual mallet where absent
 */
export const scoreOfReading = (...of: Parameters<typeof scoreOfReadingInSlices>): Score =>
  finish(scoreOfReadingInSlices(...of));

/** {@link scoreOfReading}, a bar at a time. */
export function* scoreOfReadingInSlices(
  reading: Reading,
  chosen: Key,
  instrument: InstrumentId,
  title: string,
  codeName: string,
  most = Infinity,
  asked?: MalletId,
): Sliced<Score> {
  const k = writable(chosen);
  const { notes, mallet } = markMallets(instrument, asked, notesOfReading(reading, k));
  const bars = Math.min(most, barsNeeded(reading.metre, notes));
  const frame = { metre: reading.metre, key: k, upbeat: reading.upbeat, bars };
  // Of what comes after the last bar written, only what begins at its barline is asked for: where a line may end there.
  const end = multiply(barLength(reading.metre), fraction(bars));
  const written = most < Infinity ? notes.filter(note => !less(end, note.onset)) : notes;
  return {
    title,
    codeName,
    metre: reading.metre,
    key: k,
    tempo: reading.tempo,
    ...(reading.swing === undefined ? {} : { swing: reading.swing }),
    upbeat: reading.upbeat,
    barCount: bars + (reading.upbeat.n > 0 ? 1 : 0),
    letters: [],
    brackets: [],
    parts: [
      {
        id: 'p1',
        name: INSTRUMENTS[instrument].name,
        short: INSTRUMENTS[instrument].short,
        instrument,
        clef: clefFor(notes, instrument),
        ...(mallet === undefined ? {} : { mallet }),
        bars: yield* engravePartInSlices(frame, written),
      },
    ],
  };
}
