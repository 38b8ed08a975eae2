import { add, type Fraction, less, negate, subtract, times } from '../../../core/foundation/fraction.ts';
import { tactus } from '../../../core/foundation/metre.ts';
import type { Growth, Target } from '../../../core/growing/growth.ts';
import { type Motif, type Passage, upbeatOf } from '../../../core/motif/motif.ts';
import type { Treatment } from '../../../core/motif/treatment.ts';
import { passageOf } from '../../../core/plan/statement.ts';
import type { Card, CardPlace } from './card.ts';
import { type CardChoice, FACTORS } from './cardChoice.ts';
import { BAR_CARDS } from './barCards.ts';
import { chordOf, droneOf } from './lowNotes.ts';

const target = (to: Target | 'here'): Target => (to === 'here' ? { part: '' } : to);
const none = (): readonly Treatment[] => [];
const phraseNow = (p: CardPlace): Passage => passageOf(p.motif, p.statement);

const changing = (card: Pick<Card, 'id' | 'title' | 'words' | 'listen' | 'blanks' | 'treatments'>): Card => ({
  ...card,
  blanks: [...card.blanks, 'also'],
  place: 'either',
  step: (choice, place) => {
    const treatments = [...card.treatments(choice, phraseNow(place), place.motif), ...choice.also];
    const statement = place.statement.id;
    return place.to === 'here'
      ? { kind: 'change', statement, treatments }
      : { kind: 'state', statement, treatments, to: place.to, onset: place.at };
  },
});

/** The first or last beats of a phrase; all of it where it is shorter. */
const sliceOf = (choice: CardChoice, phrase: Passage, motif: Motif): { from: Fraction; to: Fraction } => {
  const wanted = times(tactus(motif.metre), choice.sliceBeats);
  const length = less(wanted, phrase.length) ? wanted : phrase.length;
  const start = negate(upbeatOf(phrase));
  const end = add(start, phrase.length);
  return choice.slice === 'start'
    ? { from: start, to: add(start, length) }
    : { from: subtract(end, length), to: end };
};

const accompanying = (
  card: Pick<Card, 'id' | 'title' | 'words' | 'listen' | 'blanks' | 'usual'> &
    Required<Pick<Card, 'accompaniment'>>,
): Card => ({
  ...card,
  place: 'other',
  treatments: none,
  step: (choice, { motif, statement, to, bar }) => ({
    kind: 'accompany',
    statement: statement.id,
    what: card.accompaniment(choice, motif, statement),
    to: target(to),
    bar,
    bars: choice.forBars ?? Math.max(1, choice.to - choice.from + 1),
  }),
});

const moving = (choice: CardChoice): readonly Treatment[] => [
  { kind: 'transpose', by: choice.by, steps: choice.steps },
];

/** A variation as chosen; nothing where nothing was chosen yet. */
const variationOf = ({ vary, order, ornaments }: CardChoice): readonly Treatment[] => {
  if (vary === 'ornament') return ornaments.length === 0 ? [] : [{ kind: 'ornament', ornaments }];
  if (order?.some((from, i) => from !== i) !== true) return [];
  return [{ kind: vary, from: order }];
};

/** The cards of the development pane, in the order a class meets them. */
export const CARDS: readonly Card[] = [
  {
    id: 'repetition',
    title: 'Repetition',
    words: 'The idea again, straight after itself.',
    listen:
      'A tune that comes again is a tune people remember. Over and over under another part, it is an ostinato.',
    blanks: ['times'],
    place: 'here',
    treatments: none,
    step: (choice, { statement }) => ({ kind: 'repeat', statement: statement.id, times: choice.times }),
  },
  {
    id: 'second-part',
    title: 'Second part',
    words: 'Another instrument joins in and plays the same.',
    listen:
      'Both play together: in unison at the same height, or an octave apart, or with something else done to one of them.',
    blanks: ['octaves', 'also'],
    place: 'other',
    treatments: none,
    step: (choice, { statement, to, bar }) => ({
      kind: 'second-part',
      statement: statement.id,
      to: target(to),
      bar,
      octaves: choice.octaves,
      also: choice.also,
    }),
  },
  {
    id: 'canon',
    title: 'Canon',
    words: 'The same tune, starting later, like a round.',
    listen: 'The second part plays exactly what the first played, a little later, while the first goes on.',
    blanks: ['beats', 'octaves', 'also'],
    place: 'other',
    treatments: none,
    step: (choice, { statement, to }) => ({
      kind: 'canon',
      statement: statement.id,
      to: target(to),
      beats: choice.beats,
      octaves: choice.octaves,
      also: choice.also,
    }),
  },
  {
    id: 'imitation',
    title: 'Imitation',
    words: 'An answer: starting later, and higher or lower.',
    listen: 'You hear that it is the same idea, but it answers from somewhere else, or is changed a little.',
    blanks: ['beats', 'steps', 'also'],
    place: 'other',
    treatments: choice => [{ kind: 'transpose', by: 'scale', steps: choice.steps }],
    step: (choice, { statement, to }) => ({
      kind: 'imitation',
      statement: statement.id,
      to: target(to),
      beats: choice.beats,
      steps: choice.steps,
      also: choice.also,
    }),
  },
  changing({
    id: 'steps',
    title: 'Up or down the steps',
    words: 'The same shape, starting on another bar of the instrument.',
    listen: 'By steps of the scale it stays in the key. By semitones every distance stays exactly the same.',
    blanks: ['steps', 'by'],
    treatments: moving,
  }),
  {
    id: 'sequence',
    title: 'Sequence',
    words: 'Again and again, a step higher or lower each time.',
    listen: 'It has to follow straight on: then it sounds like climbing or going down stairs.',
    blanks: ['copies', 'steps'],
    usual: { steps: 1, copies: 2 },
    place: 'here',
    treatments: choice => [{ kind: 'transpose', by: 'scale', steps: choice.steps }],
    step: (choice, { statement }) => ({
      kind: 'sequence',
      statement: statement.id,
      steps: choice.steps,
      copies: choice.copies,
    }),
  },
  {
    id: 'modulating-sequence',
    title: 'Modulating sequence',
    words: 'Again and again, each time in another key.',
    listen: 'Every distance stays exactly the same, so each time it sounds as if it had a new home note.',
    blanks: ['copies', 'steps'],
    usual: { steps: 2, copies: 2, by: 'semitone' },
    place: 'here',
    treatments: choice => [{ kind: 'transpose', by: 'semitone', steps: choice.steps }],
    step: (choice, { statement }) => ({
      kind: 'sequence',
      statement: statement.id,
      steps: choice.steps,
      copies: choice.copies,
      by: 'semitone',
    }),
  },
  changing({
    id: 'augmentation',
    title: 'Augmentation',
    words: 'Every note lasts longer. It sounds slower.',
    listen: 'The same tune stretched: against the tune at its own speed it sounds calm and large.',
    blanks: ['factor'],
    treatments: choice => [{ kind: 'augment', factor: FACTORS[choice.factor] }],
  }),
  changing({
    id: 'diminution',
    title: 'Diminution',
    words: 'Every note is shorter. Two may fit in the time of one.',
    listen: 'The same tune squeezed: it sounds quick and busy.',
    blanks: ['factor'],
    treatments: choice => [{ kind: 'diminish', factor: FACTORS[choice.factor] }],
  }),
  changing({
    id: 'inversion',
    title: 'Inversion',
    words: 'Upside down: where the tune went up, it goes down.',
    listen: 'The rhythm is the same; the line is turned over about one note, like a reflection in water.',
    blanks: ['by', 'axis'],
    treatments: choice => [
      { kind: 'invert', by: choice.by, ...(choice.axis === undefined ? {} : { axis: choice.axis }) },
    ],
  }),
  changing({
    id: 'retrograde',
    title: 'Retrograde',
    words: 'Back to front: the last note comes first.',
    listen: 'Each note keeps its own length. It is hard to hear that it is the same tune: that is the game.',
    blanks: [],
    treatments: () => [{ kind: 'retrograde' }],
  }),
  changing({
    id: 'retrograde-inversion',
    title: 'Retrograde inversion',
    words: 'Back to front and upside down, both at once.',
    listen: 'Turn the page round by half a turn and play what you see.',
    blanks: [],
    treatments: () => [{ kind: 'retrograde' }, { kind: 'invert', by: 'scale' }],
  }),
  changing({
    id: 'fragment',
    title: 'Fragment',
    words: 'Only a piece of the idea, from its start or its end.',
    listen: 'A few notes are enough to remind you of the whole. They can be repeated or moved on their own.',
    blanks: ['slice'],
    treatments: (choice, phrase, motif) => [{ kind: 'fragment', ...sliceOf(choice, phrase, motif) }],
  }),
  changing({
    id: 'variation',
    title: 'Variation',
    words: 'Keep one thing and change another: you choose every note.',
    listen:
      'Something stays, so that you know the idea again, and something is new: the notes, the rhythm, or what is added to them.',
    blanks: ['vary'],
    treatments: variationOf,
  }),
  accompanying({
    id: 'drone',
    title: 'Drone',
    words: 'One or two notes held or struck under the idea, always the same.',
    listen:
      'A drone is the ground a tune stands on. Tonic and fifth together are a bordun: nearly every tune of five notes goes over it.',
    blanks: ['figure', 'low', 'other', 'forBars'],
    accompaniment: droneOf,
  }),
  accompanying({
    id: 'chord',
    title: 'A chord under a bar',
    words: 'Notes of your choice struck together under a bar.',
    listen: 'Try another root under the same bar: the tune stays, and its colour changes.',
    blanks: ['low', 'chord', 'forBars'],
    usual: { forBars: 1 },
    accompaniment: chordOf,
  }),
  ...BAR_CARDS,
];

/** A card for each further motif of the take. */
export const motifCards = (motif: Motif): readonly Card[] =>
  Object.keys(motif.others ?? {}).map(id => ({
    id: `motif-${id}`,
    title: `Motif ${id}`,
    words: 'Another idea from the same take.',
    listen: 'Two ideas that are unlike each other give a piece something to talk about.',
    blanks: [],
    place: 'other' as const,
    treatments: none,
    step: (_choice: CardChoice, { statement, to, at }: CardPlace): Growth => ({
      kind: 'motif',
      statement: statement.id,
      motif: id,
      onset: at,
      to: target(to),
    }),
  }));
