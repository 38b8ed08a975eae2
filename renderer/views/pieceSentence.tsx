import type { ComponentChildren } from 'preact';
import { useApp } from '../desk/appContext.ts';
import { nameIt } from '../desk/commands/open.ts';
import { TYPING_PAUSE, useTyping } from './parts/typing.ts';
import { PupilWord } from './parts/pupilWord.tsx';

/** Longest title that is typed. */
const MOST_LETTERS = 60;

/** What the piece is called: a word of the sentence that can be typed over. */
const Title = (props: { title: string }): ComponentChildren => {
  const { desk } = useApp();
  const typing = useTyping(
    props.title,
    (typed, goesOn, before) => {
      const title = typed.replace(/\s+/g, ' ').trim();
      if (title !== '') desk.run(nameIt, title, goesOn ? before : undefined);
    },
    TYPING_PAUSE,
  );
  return (
    <input
      class="blank title-word"
      aria-label="Title"
      maxLength={MOST_LETTERS}
      {...typing}
      onKeyDown={event => {
        typing.onKeyDown(event);
        if (event.key === 'Enter') event.currentTarget.blur();
      }}
    />
  );
};

/** Keeps a version of what is open: in every place where there is something. */
export const KeepVersion = (props: { class: string }): ComponentChildren => {
  const { desk, keeper } = useApp();
  const isKept = desk.isKept.value;
  return (
    <button
      class={props.class}
      disabled={desk.piece.value === undefined || desk.library.value.where === undefined || isKept}
      onClick={() => void keeper.keep()}
    >
      {isKept ? 'Kept' : 'Keep a version'}
    </button>
  );
};

/** The sentence of Write and of Grow: whose piece, what it is called, and what there is to say of it. */
export const PieceSentence = (props: { does?: string; children?: ComponentChildren }): ComponentChildren => {
  const { desk } = useApp();
  const piece = desk.piece.value;
  if (piece === undefined) return null;
  return (
    <div class="band">
      <PupilWord />
      {piece.className === '' ? null : <span class="quiet class-of">of {piece.className}</span>}
      <Title key={piece.id} title={piece.title} />
      {props.does === undefined ? null : <span>{props.does}</span>}
      {props.children}
    </div>
  );
};
