import { toNumber } from '../foundation/fraction.ts';
import { scaleMidi } from '../foundation/key.ts';
import type { MidiPitch, Seconds } from '../foundation/units.ts';
import type { Motif } from '../motif/motif.ts';
import type { Strike } from '../take/take.ts';

/** What a tune is told by, whatever its key and tempo: how it rises and falls, and how its notes follow each other. */
export interface Outline {
  /**
   * Its contour as a Parsons code (Parsons, The Directory of Tunes and Musical Themes, 1975) without the star of the
   * first note: u for up, d for down, r for a note that is repeated.
   */
  readonly contour: string;
  /** From each note to the next, in any unit of time, above zero; one for each letter of the contour. */
  readonly gaps: readonly number[];
}

/** Notes that are told of: a tune is known by its beginning, and a register of thousands has room. Our choice. */
export const MOST_TOLD = 64;
/** Strikes nearer than this are one chord, of which the highest is the tune. */
const CHORD: Seconds = 0.03;
/** Gaps of written notes are told in these parts of a semibreve, rounded. */
const TICKS = 192;

interface Sounding {
  readonly at: number;
  readonly pitch: MidiPitch;
}

/** The highest of what sounds together. @param sounding in order of time */
const topLine = (sounding: readonly Sounding[], together: number): readonly Sounding[] => {
  const line: Sounding[] = [];
  for (const note of sounding) {
    const last = line.at(-1);
    if (last === undefined || note.at - last.at > together) line.push(note);
    else if (note.pitch > last.pitch) line[line.length - 1] = { at: last.at, pitch: note.pitch };
  }
  return line.slice(0, MOST_TOLD);
};

const between = <T>(line: readonly Sounding[], tell: (a: Sounding, b: Sounding) => T): T[] =>
  line.slice(1).map((note, i) => tell(line[i] as Sounding, note));

const outlineOf = (line: readonly Sounding[]): Outline => ({
  contour: between(line, (a, b) => (b.pitch > a.pitch ? 'u' : b.pitch < a.pitch ? 'd' : 'r')).join(''),
  gaps: between(line, (a, b) => b.at - a.at),
});

/**
 * The outline of an idea as it is written, of chords the highest note; gaps in 192nds of a semibreve. Grace notes tell
 * nothing. At most its first 64 notes.
 * @param notes in order of time, as those of a motif are
 * @example
 * const note = (degree, beat) => ({ degree, alter: 0, onset: fraction(beat, 4), duration: fraction(1, 4) });
 * const idea = { notes: [note(28, 0), note(30, 1), note(30, 2)], length: fraction(1), key: key('C'), metre: metre(4, 4) };
 * outlineOfMotif(idea) // => { contour: 'ur', gaps: [48, 48] }
 */
export const outlineOfMotif = ({ notes, key }: Pick<Motif, 'notes' | 'key'>): Outline => {
  const sounding = notes.map(note => ({
    at: Math.round(TICKS * toNumber(note.onset)),
    pitch: scaleMidi(key, note),
  }));
  return outlineOf(topLine(sounding, 0));
};

/**
 * The outline of what was struck, gaps in seconds; what falls within 30 ms is a chord, of which the highest counts.
 * @param strikes in order of time
 * @example
 * outlineOfStrikes([{ at: 1, pitch: 60, velocity: 90 }, { at: 1.5, pitch: 57, velocity: 90 }]) // => { contour: 'd', gaps: [0.5] }
 */
export const outlineOfStrikes = (strikes: readonly Pick<Strike, 'at' | 'pitch'>[]): Outline =>
  outlineOf(topLine(strikes, CHORD));
