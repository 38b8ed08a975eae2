/** What a technique is, in one sentence, and where that is published. */
export interface Definition {
  readonly text: string;
  readonly source: string;
}

const dictionary = (entry: string): string => `The Concise Oxford Dictionary of Music, “${entry}”`;

/**
 * One definition for each card, by its id, in our own words after the entry named. The entry "canon" was read;
 * the others are given from memory.
 */
export const DEFINITIONS: Readonly<Record<string, Definition>> = {
  repetition: {
    text: 'Repetition: the same notes again. Repeated steadily while other parts change, it is an ostinato.',
    source: dictionary('ostinato'),
  },
  'second-part': {
    text: 'In unison: sounding at the same pitch. At the octave: the same notes one or more octaves apart.',
    source: dictionary('unison'),
  },
  canon: {
    text: 'Canon: a part follows another note for note, after a time, while that goes on. At the unison or octave it is simply called a canon; at another interval it is named by it (at the fifth), if every interval keeps its quality. It may also go by augmentation, diminution or inversion, or backwards.',
    source: dictionary('canon'),
  },
  imitation: {
    text: 'Imitation: another part takes up the idea, similar but not the same: at another pitch in the key, or changed. Where every interval stays exact, it is a canon.',
    source: dictionary('imitation'),
  },
  steps: {
    text: 'Transposition: the same notes, higher or lower. A third higher takes each note to the third note counting itself.',
    source: dictionary('transposition'),
  },
  sequence: {
    text: 'Sequence: a passage repeated straight on in the same part, higher or lower. In the key it is tonal; with every interval exact it is real.',
    source: dictionary('sequence'),
  },
  'modulating-sequence': {
    text: 'Modulating sequence: a real sequence that leads to another key each time. To modulate is to go from one key to another.',
    source: dictionary('modulation'),
  },
  variation: {
    text: 'Variation: an idea comes again changed and can still be recognised: other notes in its rhythm, another rhythm for its notes, or notes ornamented.',
    source: dictionary('variation'),
  },
  augmentation: {
    text: 'Augmentation: the notes of an idea made longer, usually twice as long.',
    source: dictionary('augmentation and diminution'),
  },
  diminution: {
    text: 'Diminution: the notes of an idea made shorter, usually half as long.',
    source: dictionary('augmentation and diminution'),
  },
  inversion: {
    text: 'Inversion: every interval upwards becomes the same interval downwards, and the other way round.',
    source: dictionary('inversion'),
  },
  retrograde: {
    text: 'Retrograde: the notes from last to first. A canon that does so is a crab canon.',
    source: dictionary('retrograde motion'),
  },
  'retrograde-inversion': {
    text: 'Retrograde inversion: the inversion, from its last note to its first.',
    source: dictionary('inversion'),
  },
  fragment: {
    text: 'Fragment: a part of the motif used alone. A motif is the shortest idea that can be recognised.',
    source: dictionary('motif'),
  },
  drone: {
    text: 'Drone: a note, or two a fifth apart, sounding on under a tune. In classroom playing the tonic with its fifth is a bordun: simple (both together), broken (one after the other) or crossover (hand over hand).',
    source: dictionary('drone'),
  },
  chord: {
    text: 'Chord: notes sounding together. It is named by its root; with the third and fifth over that it is a triad.',
    source: dictionary('chord'),
  },
  ending: {
    text: 'Cadence: how a piece or phrase comes to a close. Ending on the tonic sounds finished.',
    source: dictionary('cadence'),
  },
  'key-change': {
    text: 'Modulation: going from one key to another in the course of a piece. Its new signature stands where the key changes.',
    source: dictionary('modulation'),
  },
  'metre-change': {
    text: 'Metre: how beats are grouped in bars, told by the time signature. Where it changes the new one stands after the barline.',
    source: dictionary('metre'),
  },
  exchange: {
    text: 'Part exchange: two parts trade what they sing or play.',
    source: dictionary('Stimmtausch'),
  },
  section: {
    text: 'Section: a division of a piece. Forms are told by its letters: ABA is ternary.',
    source: dictionary('form'),
  },
};
