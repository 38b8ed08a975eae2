import { add, compare, show, times } from '../foundation/fraction.ts';
import { barLength } from '../foundation/metre.ts';
import { failed, ok, type Result } from '../foundation/result.ts';
import { counted } from '../plan/intervals.ts';
import type { MidiPitch } from '../foundation/units.ts';
import type { Reading, ReadNote } from '../reading/model/reading.ts';
import type { Edit } from './edit.ts';

/** Fewer notes on one bar than these are an idea that happens to be short. */
const LEAST_NOTES = 3;

/**
 * Whether a reading is a rhythm without pitches: everything was struck on one bar, pad or key.
 * @example
 * const note = (pitch, k) => ({ onset: fraction(k, 4), duration: fraction(1, 4), pitch, strike: k, doubt: 0 });
 * isRhythmOnly({ notes: [note(60, 0), note(60, 1), note(60, 2)] }) // => true
 * isRhythmOnly({ notes: [note(60, 0), note(62, 1), note(60, 2)] }) // => false
 */
export const isRhythmOnly = ({ notes }: Pick<Reading, 'notes'>): boolean =>
  notes.length >= LEAST_NOTES && notes.every(note => note.pitch === notes[0]?.pitch);

/**
 * Whether what is struck in a reading comes again after so many bars, pitch for pitch at each place that has a note
 * both times.
 * @param period bars, 1 or more
 * @example
 * const note = (pitch, k) => ({ onset: fraction(k, 4), duration: fraction(1, 4), pitch, strike: k, doubt: 0 });
 * comesAgain({ metre: metre(2, 4), notes: [note(60, 0), note(64, 1), note(60, 2), note(64, 3)] }, 1) // => true
 * comesAgain({ metre: metre(2, 4), notes: [note(60, 0), note(64, 1), note(62, 2), note(64, 3)] }, 1) // => false
 */
export const comesAgain = ({ metre, notes }: Pick<Reading, 'metre' | 'notes'>, period: number): boolean => {
  const later = times(barLength(metre), period);
  const at = new Map<string, readonly MidiPitch[]>();
  for (const { onset, pitch } of notes) {
    const place = show(onset);
    at.set(
      place,
      [...(at.get(place) ?? []), pitch].sort((a, b) => a - b),
    );
  }
  return notes.every(({ onset }) => {
    const again = at.get(show(add(onset, later)));
    return again === undefined || again.join() === at.get(show(onset))?.join();
  });
};

/** A rhythm struck on one key has its pitches from elsewhere: they are no corrections of one way to write it. */
export const pitchesKept = (edits: readonly Edit[], chosen: Pick<Reading, 'notes'>): readonly Edit[] =>
  isRhythmOnly(chosen) ? edits.filter(({ kind }) => kind === 'pitch' || kind === 'respell') : [];

/** The notes in the order in which their bars are struck: by place, the lower of a chord first. */
export const asStruck = ({ notes }: Pick<Reading, 'notes'>): readonly ReadNote[] =>
  [...notes].sort((a, b) => compare(a.onset, b.onset) || a.pitch - b.pitch);

/**
 * The corrections that give the notes of a reading their pitches, one for each bar that was struck, in order; the
 * rhythm stays. Problems: 'bad-request' where there are not as many as notes, counted in a sentence.
 * @param struck written MIDI pitches
 * @example
 * const note = k => ({ onset: fraction(k, 4), duration: fraction(1, 4), pitch: 60, strike: k, doubt: 0 });
 * pitchesGiven({ notes: [note(0), note(1)] }, [60, 64]).value // => [{ kind: 'pitch', note: 1, pitch: 64 }]
 * pitchesGiven({ notes: [note(0), note(1)] }, [60]).problem.what // => 'One bar was struck, and there are two notes.'
 */
export const pitchesGiven = (
  reading: Pick<Reading, 'notes'>,
  struck: readonly MidiPitch[],
): Result<readonly Edit[]> => {
  const notes = asStruck(reading);
  if (struck.length !== notes.length) {
    const bars = counted(struck.length, 'bar');
    const more = struck.length < notes.length;
    return failed({
      kind: 'bad-request',
      what: `${bars.charAt(0).toUpperCase()}${bars.slice(1)} ${struck.length === 1 ? 'was' : 'were'} struck, and there ${notes.length === 1 ? 'is' : 'are'} ${counted(notes.length, 'note')}.`,
      kept: 'The page is as it was, and what was struck still counts.',
      next: more ? 'Strike the bars that are missing.' : 'Take back what was struck too often.',
    });
  }
  return ok(
    notes.flatMap((note, i): Edit[] => {
      const pitch = struck[i];
      return pitch === undefined || pitch === note.pitch ? [] : [{ kind: 'pitch', note: note.strike, pitch }];
    }),
  );
};
