import type { MidiPitch } from '../foundation/units.ts';
import { INSTRUMENT_IDS, INSTRUMENTS, type InstrumentId } from '../instruments/instruments.ts';
import type { ToneBarSet, ExchangeToneBar } from './toneBarSet.ts';

/**
 * The concert instrument in full, by its published range (`INSTRUMENTS`).
 * @example
 * concertSet('glockenspiel').name // => 'Concert glockenspiel'
 */
export const concertSet = (instrument: InstrumentId): ToneBarSet => {
  const { name, low, high, soundsAbove } = INSTRUMENTS[instrument];
  return {
    id: `concert-${instrument}`,
    name: `Concert ${name.toLowerCase()}`,
    plays: instrument,
    soundsAbove,
    low,
    high,
    accidentals: true,
    missing: [],
    lifted: [],
    exchange: [],
  };
};

// Written C4 to A5, 13 naturals; F♯4, F♯5 and B♭4 in the box, each for its natural (from memory).
const CLASSROOM_LOW: MidiPitch = 60;
const CLASSROOM_HIGH: MidiPitch = 81;
const CLASSROOM_EXCHANGE: readonly ExchangeToneBar[] = [
  { pitch: 66, inPlaceOf: 65, isIn: false },
  { pitch: 70, inPlaceOf: 71, isIn: false },
  { pitch: 78, inPlaceOf: 77, isIn: false },
];

const classroomSet = (id: string, name: string, plays: InstrumentId, soundsAbove: number): ToneBarSet => ({
  id,
  name,
  plays,
  soundsAbove,
  low: CLASSROOM_LOW,
  high: CLASSROOM_HIGH,
  accidentals: false,
  missing: [],
  lifted: [],
  exchange: CLASSROOM_EXCHANGE,
});

/**
 * Classroom instruments. Sounding octaves (makers' tables, some from memory): soprano xylophone and metallophone +1,
 * alto 0, bass −1; soprano glockenspiel +2, alto +1.
 */
export const CLASSROOM_SETS: readonly ToneBarSet[] = [
  classroomSet('soprano-xylophone', 'Soprano xylophone', 'xylophone', 12),
  classroomSet('alto-xylophone', 'Alto xylophone', 'xylophone', 0),
  classroomSet('bass-xylophone', 'Bass xylophone', 'marimba', -12),
  classroomSet('soprano-metallophone', 'Soprano metallophone', 'vibraphone', 12),
  classroomSet('alto-metallophone', 'Alto metallophone', 'vibraphone', 0),
  classroomSet('bass-metallophone', 'Bass metallophone', 'vibraphone', -12),
  classroomSet('soprano-glockenspiel', 'Soprano glockenspiel', 'glockenspiel', 24),
  classroomSet('alto-glockenspiel', 'Alto glockenspiel', 'glockenspiel', 12),
];

/** Every set as it comes, before a room changes it. */
export const PRESETS: readonly ToneBarSet[] = [...INSTRUMENT_IDS.map(concertSet), ...CLASSROOM_SETS];
