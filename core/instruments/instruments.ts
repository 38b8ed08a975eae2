import type { MidiPitch } from '../foundation/units.ts';

/** The four tuned percussion instruments a part can be written for. */
export type InstrumentId = 'xylophone' | 'glockenspiel' | 'marimba' | 'vibraphone';

export interface Instrument {
  readonly id: InstrumentId;
  /** As printed before the first system. */
  readonly name: string;
  /** As printed before later systems. */
  readonly short: string;
  /** Semitones added to what is written to reach what sounds. */
  readonly soundsAbove: number;
  /** Lowest and highest written note, MIDI pitch. */
  readonly low: MidiPitch;
  readonly high: MidiPitch;
  readonly material: 'wood' | 'metal';
  /** Its bars are damped unless a pedal is held down. */
  readonly hasPedal?: true;
  /** General MIDI 1 program, counted from 0 as on the wire (MIDI Association, GM1 sound set; from memory). */
  readonly program: number;
  /** Name in the MusicXML 4.0 sounds list. */
  readonly sound: string;
}

/**
 * Concert ranges and transpositions: marimba A2 to C7 as written; xylophone written F3 to C7, an
 * octave up; vibraphone F3 to F6 as written; glockenspiel written G3 to C6, two octaves up
 * (ranges and transpositions as orchestration handbooks print them).
 */
export const INSTRUMENTS: Readonly<Record<InstrumentId, Instrument>> = {
  xylophone: {
    id: 'xylophone',
    name: 'Xylophone',
    short: 'Xyl.',
    soundsAbove: 12,
    low: 53,
    high: 96,
    material: 'wood',
    program: 13,
    sound: 'pitched-percussion.xylophone',
  },
  glockenspiel: {
    id: 'glockenspiel',
    name: 'Glockenspiel',
    short: 'Glock.',
    soundsAbove: 24,
    low: 55,
    high: 84,
    material: 'metal',
    program: 9,
    sound: 'pitched-percussion.glockenspiel',
  },
  marimba: {
    id: 'marimba',
    name: 'Marimba',
    short: 'Mar.',
    soundsAbove: 0,
    low: 45,
    high: 96,
    material: 'wood',
    program: 12,
    sound: 'pitched-percussion.marimba',
  },
  vibraphone: {
    id: 'vibraphone',
    name: 'Vibraphone',
    short: 'Vib.',
    soundsAbove: 0,
    low: 53,
    high: 89,
    material: 'metal',
    hasPedal: true,
    program: 11,
    sound: 'pitched-percussion.vibraphone',
  },
};

export const INSTRUMENT_IDS: readonly InstrumentId[] = ['glockenspiel', 'xylophone', 'marimba', 'vibraphone'];

/**
 * How an instrument sounds against what is written; empty where as written.
 * @param soundsAbove semitones, whole octaves
 * @example
 * transpositionWords(INSTRUMENTS.glockenspiel.soundsAbove) // => 'sounds two octaves higher'
 * transpositionWords(0) // => ''
 */
export const transpositionWords = (soundsAbove: number): string => {
  const octaves = soundsAbove / 12;
  if (octaves === 0) return '';
  const size =
    Math.abs(octaves) === 1
      ? 'an octave'
      : Math.abs(octaves) === 2
        ? 'two octaves'
        : `${String(Math.abs(octaves))} octaves`;
  return `sounds ${size} ${octaves > 0 ? 'higher' : 'lower'}`;
};
