import type { NoteValue } from '../../foundation/noteValue.ts';

/** Note values as MusicXML names them. */
export const TYPE: Readonly<Record<NoteValue['base'], string>> = {
  1: 'whole',
  2: 'half',
  4: 'quarter',
  8: 'eighth',
  16: '16th',
  32: '32nd',
  64: '64th',
};

/** Accidentals by their alteration in semitones. */
export const ACCIDENTAL: Readonly<Record<string, string>> = {
  '-2': 'flat-flat',
  '-1': 'flat',
  '0': 'natural',
  '1': 'sharp',
  '2': 'double-sharp',
};
