import type { ComponentChildren } from 'preact';
import { type NameStyle, valueName, valueOf } from '../../../core/foundation/noteValue.ts';
import { pitchName } from '../../../core/foundation/pitch.ts';
import { countWords } from '../../../core/piece/positionWords.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import { spelledNote } from '../../../core/piece/spelledNote.ts';
import { beatIsInThree } from '../../../core/piece/gridPositions.ts';
import type { Reading, ReadNote } from '../../../core/reading/model/reading.ts';
import { type Correction, CORRECTIONS } from '../../desk/acts/corrections.ts';
import { useApp } from '../../desk/appContext.ts';
import { isPinned, keepBar, letGo, limit } from '../../desk/commands/pins.ts';
import { ChosenNote } from './chosenNote.tsx';
import { DOUBTFUL, doubtsTheBeat } from './strikeLine.tsx';

/** The note for those who hear the page: "A4 quaver, bar 1, 1 &". */
const describe = (piece: Piece, reading: Reading, note: ReadNote, style: NameStyle): string => {
  const value = valueOf(note.duration);
  const length = value === undefined ? 'tied' : valueName(value, style);
  return `${pitchName(spelledNote(reading, piece.key, note))} ${length}, ${countWords(reading.metre, note.onset)}`;
};

const Legend = (props: { doubtful: number; beat: boolean }): ComponentChildren => (
  <>
    <span class="legend">
      <span class="triangle" aria-hidden="true" /> where the mallet fell
    </span>
    {props.beat ? (
      <span class="legend">Not sure of the beat itself: compare the ways to write it.</span>
    ) : props.doubtful > 0 ? (
      <span class="legend">
        <span class="diamond" aria-hidden="true" /> not sure of{' '}
        {props.doubtful === 1 ? 'this note' : 'these notes'}
      </span>
    ) : null}
    <span class="quiet">Choose a note to correct it, or drag its mark.</span>
  </>
);

/** What followed the last correction, and the way to take it back. */
const Followed = (): ComponentChildren => {
  const { desk, asking } = useApp();
  const count = desk.followed.value.length;
  if (count === 0) return null;
  return (
    <span class="followed-words">
      {count === 1 ? 'One other note followed.' : `${String(count)} other notes followed.`}{' '}
      {desk.canLimit.value ? (
        <button
          class="plain word"
          onClick={() => {
            asking.afterwards(limit);
          }}
          title="O"
        >
          Only here
        </button>
      ) : null}
    </span>
  );
};

/** The chosen note in words, and every correction as a button; the keys beside them do the same. */
export const Correct = (props: { piece: Piece; reading: Reading }): ComponentChildren => {
  const { desk, asking } = useApp();
  const { piece, reading } = props;
  const strikes = desk.selectedNotes.value;
  const chosen = reading.notes.filter(note => strikes.includes(note.strike));
  const [first] = chosen;
  const inThree = first !== undefined && beatIsInThree(reading, first.onset);
  const textOf = (correction: Correction): string =>
    correction.id === 'triplet' && inThree ? 'No triplet here' : correction.text;
  return (
    <div class="correct" role="group" aria-label="Correct the chosen note">
      <div class="chosen-note">
        <span class="unseen" aria-live="polite">
          {first === undefined ? '' : describe(piece, reading, first, desk.nameStyle.value)}
        </span>
        {first === undefined ? (
          <Legend
            doubtful={reading.notes.filter(note => note.doubt >= DOUBTFUL).length}
            beat={doubtsTheBeat(reading)}
          />
        ) : chosen.length === 1 ? (
          <ChosenNote piece={piece} reading={reading} note={first} />
        ) : (
          <b>{`${String(chosen.length)} notes`}</b>
        )}
        {chosen.length === 1 ? (
          <button
            class="plain word"
            onClick={() => void asking.ask(keepBar, strikes)}
            title="K: reading anew leaves this bar as it is"
          >
            keep this bar
          </button>
        ) : null}
        {chosen.some(note => isPinned(piece, note.strike)) ? (
          <button class="plain word" onClick={() => void asking.ask(letGo, strikes)} title="U">
            Let it go
          </button>
        ) : null}
        <Followed />
      </div>
      <div class="tools">
        {CORRECTIONS.map(correction => (
          <button
            key={correction.id}
            class="tool"
            disabled={first === undefined && correction.needsNote}
            title={correction.keys}
            onClick={() => {
              correction.run(desk, asking);
            }}
          >
            {textOf(correction)}
          </button>
        ))}
      </div>
    </div>
  );
};
