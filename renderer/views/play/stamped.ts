import { modulo } from '../../../core/foundation/pitch.ts';
import type { MidiPitch } from '../../../core/foundation/units.ts';

const STAMPED = ['C', 'C♯', 'D', 'E♭', 'E', 'F', 'F♯', 'G', 'A♭', 'A', 'B♭', 'B'];

/** The letter as it is stamped on a classroom bar. */
export const stampedLetter = (pitch: MidiPitch): string => STAMPED[modulo(pitch, 12)] ?? '';

/** The same with its octave; C4 is middle C. */
export const stampedName = (pitch: MidiPitch): string =>
  `${stampedLetter(pitch)}${String(Math.floor(pitch / 12) - 1)}`;
