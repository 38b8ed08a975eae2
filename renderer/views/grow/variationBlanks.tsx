import type { ComponentChildren } from 'preact';
import { equal, type Fraction } from '../../../core/foundation/fraction.ts';
import { valueName, valueOf } from '../../../core/foundation/noteValue.ts';
import { pitchName } from '../../../core/foundation/pitch.ts';
import { inOrder, type Motif, type MotifNote, type Passage } from '../../../core/motif/motif.ts';
import type { OrnamentFigure } from '../../../core/motif/vary.ts';
import { notesOfPassage, passageOf, type Statement } from '../../../core/plan/statement.ts';
import { useApp } from '../../desk/appContext.ts';
import { type Choice, SentenceChoice } from '../parts/sentence.tsx';
import type { CardChoice } from './cardChoice.ts';

const KINDS: readonly { readonly value: CardChoice['vary']; readonly text: string }[] = [
  { value: 'pitches', text: 'the rhythm, and choose the notes' },
  { value: 'lengths', text: 'the notes, and choose the rhythm' },
  { value: 'ornament', text: 'both, and ornament notes' },
];
const FIGURES: readonly { readonly value: OrnamentFigure | ''; readonly text: string }[] = [
  { value: '', text: 'plain' },
  { value: 'twice', text: 'struck twice' },
  { value: 'upper', text: 'with the note above between' },
  { value: 'lower', text: 'with the note below between' },
  { value: 'grace', text: 'with a grace note from above' },
];

interface VariationProps {
  readonly motif: Motif;
  readonly statement: Statement;
  readonly choice: CardChoice;
  readonly onChoose: (choice: CardChoice) => void;
}

/** Names of the notes of a passage, in its order. */
const namesOf = (motif: Motif, passage: Passage): readonly string[] =>
  notesOfPassage(motif.key, passage, { n: 0, d: 1 }, 1, '').map(note => pitchName(note.pitch));

/** The first note of each moment, in order, with its number in the passage. */
const momentsOf = (passage: Passage): readonly MotifNote[] => {
  const all: MotifNote[] = [];
  for (const note of inOrder(passage.notes)) {
    const last = all.at(-1);
    if (last === undefined || !equal(last.onset, note.onset)) all.push(note);
  }
  return all;
};

const Pitches = ({ motif, statement, choice, onChoose }: VariationProps): ComponentChildren => {
  const names = namesOf(motif, passageOf(motif, statement));
  const own = names
    .map((text, i) => ({ value: String(i), text }))
    .filter((c, i) => names.indexOf(c.text) === i);
  const order = choice.order ?? names.map((_, i) => i);
  return names.map((name, i) => (
    <SentenceChoice
      key={i}
      before={`Note ${String(i + 1)}:`}
      value={String(names.indexOf(names[order[i] ?? i] ?? name))}
      choices={own}
      onChoose={v => {
        onChoose({ ...choice, order: order.map((from, k) => (k === i ? Number(v) : from)) });
      }}
    />
  ));
};

const Lengths = ({ motif, statement, choice, onChoose }: VariationProps): ComponentChildren => {
  const { desk } = useApp();
  const passage = passageOf(motif, statement);
  const names = namesOf(motif, passage);
  const moments = momentsOf(passage);
  const told = (length: Fraction): string => {
    const value = valueOf(length);
    return value === undefined ? 'its length' : valueName(value, desk.nameStyle.value);
  };
  const order = choice.order ?? moments.map((_, i) => i);
  const lengths: Choice[] = moments.map((note, i) => ({
    value: String(i),
    text: `as note ${String(i + 1)} did (${told(note.duration)})`,
  }));
  return moments.map((note, i) => (
    <SentenceChoice
      key={i}
      before={`${names[passage.notes.indexOf(note)] ?? ''}, note ${String(i + 1)}, lasts`}
      value={String(order[i] ?? i)}
      choices={lengths}
      onChoose={v => {
        // Every length is used once: the two notes trade theirs.
        const wanted = Number(v);
        const had = order[i] ?? i;
        onChoose({
          ...choice,
          order: order.map((from, k) => (k === i ? wanted : from === wanted ? had : from)),
        });
      }}
    />
  ));
};

const Ornaments = ({ motif, statement, choice, onChoose }: VariationProps): ComponentChildren =>
  namesOf(motif, passageOf(motif, statement)).map((name, i) => (
    <SentenceChoice
      key={i}
      before={`${name}, note ${String(i + 1)}:`}
      value={choice.ornaments.find(o => o.note === i)?.figure ?? ''}
      choices={FIGURES}
      onChoose={v => {
        const others = choice.ornaments.filter(o => o.note !== i);
        const ornaments = v === '' ? others : [...others, { note: i, figure: v as OrnamentFigure }];
        onChoose({ ...choice, ornaments });
      }}
    />
  ));

/** What a variation keeps and what it changes: every note, length and ornament is the pupil's choice, from his own idea. */
export const VariationBlanks = (props: VariationProps): ComponentChildren => {
  const { choice, onChoose } = props;
  return (
    <>
      <SentenceChoice
        wraps
        before="Keep"
        value={choice.vary}
        choices={KINDS}
        after="."
        onChoose={v => {
          const vary = KINDS.find(kind => kind.value === v)?.value ?? 'pitches';
          onChoose({ ...choice, vary, order: undefined, ornaments: [] });
        }}
      />
      {choice.vary === 'pitches' ? (
        <Pitches {...props} />
      ) : choice.vary === 'lengths' ? (
        <Lengths {...props} />
      ) : (
        <Ornaments {...props} />
      )}
    </>
  );
};
