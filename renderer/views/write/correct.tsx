import { NextBest, SoundOfIdea } from './pitchDoubtRow.tsx';
import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { type NameStyle, valueName, valueOf } from '../../../core/foundation/noteValue.ts';
import { spell } from '../../../core/foundation/key.ts';
import { pitchName } from '../../../core/foundation/pitch.ts';
import { countWords } from '../../../core/piece/positionWords.ts';
import { gracesBefore, gracesOn } from '../../../core/piece/graceEdits.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import { spelledNote } from '../../../core/piece/spelledNote.ts';
import { beatIsInThree } from '../../../core/piece/gridPositions.ts';
import type { Reading, ReadNote } from '../../../core/reading/model/reading.ts';
import { type Correction, CORRECTIONS, GLISS_IT, ROLL_IT } from '../../desk/acts/corrections.ts';
import { useApp } from '../../desk/appContext.ts';
import { toggleGraces } from '../../desk/commands/graces.ts';
import { everywhere, isPinned, keepBar, letGo, limit } from '../../desk/commands/pins.ts';
import { selectNotes } from '../../desk/commands/settings.ts';
import type { Desk } from '../../desk/desk.ts';
import { bringIntoSight } from '../parts/following.ts';
import type { PlacedSystem } from '../parts/scorePage.tsx';
import { ProjectorButton } from '../parts/projectorButton.tsx';
import { ChosenNote } from './chosenNote.tsx';
import { FromNotes } from './cutMotif.tsx';
import { countsBottom, DOUBTFUL, doubtsTheBeat } from './strikeLine.tsx';

/** Height kept for the tools under every system, so that nothing moves when a note is chosen; CSS pixels. */
export const TOOLS = 96;

const strokeWords = (count: number): string => (count === 1 ? 'one stroke' : `${String(count)} strokes`);

/** The note for those who hear the page: "A4 quaver, bar 1, 1 &". */
const describe = (piece: Piece, reading: Reading, note: ReadNote, style: NameStyle): string => {
  const value = valueOf(note.duration);
  const length = value === undefined ? 'tied' : valueName(value, style);
  const roll = note.roll === undefined ? '' : `, rolled in ${strokeWords(note.roll.length)}`;
  const gliss =
    note.gliss === undefined ? '' : `, glissando to ${pitchName(spell(piece.key, note.gliss.to))}`;
  return `${pitchName(spelledNote(reading, piece.key, note))} ${length}${roll}${gliss}, ${countWords(reading.metre, note.onset)}`;
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

const followedWords = (count: number): string =>
  count === 1 ? 'One other note followed.' : `${String(count)} other notes followed.`;

/** What followed the last correction, the way to take it back, and the way to carry it everywhere. */
const Followed = (): ComponentChildren => {
  const { desk, asking } = useApp();
  const count = desk.followed.value.length;
  const like = desk.likeElsewhere.value;
  if (count === 0 && like === 0) return null;
  return (
    <span class="followed-words">
      {count === 0 ? null : <>{followedWords(count)} </>}
      {desk.canLimit.value ? (
        <button
          class="tool"
          onClick={() => {
            asking.afterwards(limit);
          }}
          title="O"
        >
          Only here
        </button>
      ) : null}
      {like === 0 ? null : (
        <button
          class="tool"
          onClick={() => void asking.ask(everywhere)}
          title={`L: ${like === 1 ? 'one note' : `${String(like)} notes`} of the same figure elsewhere`}
        >
          Everywhere like this
        </button>
      )}
    </span>
  );
};

const chosenNotes = (desk: Desk, reading: Reading): readonly ReadNote[] => {
  const strikes = desk.selectedNotes.value;
  return reading.notes.filter(note => strikes.includes(note.strike));
};

const CorrectionTool = (props: { correction: Correction; text: string }): ComponentChildren => {
  const { desk, asking } = useApp();
  const { correction, text } = props;
  return (
    <button
      class="tool"
      title={correction.keys}
      onClick={() => {
        correction.run(desk, asking);
      }}
    >
      {text}
    </button>
  );
};

/** The line under the page: what its marks mean, what followed, and what needs no note chosen. */
export const PageLine = (props: { piece: Piece; reading: Reading }): ComponentChildren => {
  const { desk } = useApp();
  const { piece, reading } = props;
  const [first] = chosenNotes(desk, reading);
  return (
    <div class="page-line">
      <span class="unseen" aria-live="polite">
        {first === undefined ? '' : describe(piece, reading, first, desk.nameStyle.value)}
      </span>
      <Legend
        doubtful={reading.notes.filter(note => note.doubt >= DOUBTFUL).length}
        beat={doubtsTheBeat(reading)}
      />
      <Followed />
      <span class="grow-space" />
      <SoundOfIdea />
      <ProjectorButton />
      {CORRECTIONS.filter(correction => !correction.needsNote).map(correction => (
        <CorrectionTool key={correction.id} correction={correction} text={correction.text} />
      ))}
    </div>
  );
};

/** Where the chosen note stands: the system, and how far along it. */
const placeOf = (
  systems: readonly PlacedSystem[],
  strikes: readonly number[],
): { readonly system: PlacedSystem; readonly x: number } | undefined => {
  const refs = new Set(strikes.map(String));
  for (const system of systems) {
    const symbol = system.symbols.find(s => s.refs.some(ref => refs.has(ref)));
    if (symbol !== undefined) return { system, x: symbol.x };
  }
  return undefined;
};

/** The way from grace notes to notes, or back, where there is one. */
const GraceWords = (props: { piece: Piece; reading: Reading; note: ReadNote }): ComponentChildren => {
  const { desk } = useApp();
  const { piece, reading, note } = props;
  const count =
    note.grace === undefined ? gracesBefore(reading, piece.take, note).length : gracesOn(note).length;
  if (count === 0) return null;
  const notes = count === 1 ? 'grace note' : 'grace notes';
  return (
    <button
      class="plain word"
      onClick={() => {
        desk.run(toggleGraces, note.strike);
      }}
    >
      {note.grace === undefined
        ? `Make ${count === 1 ? 'a grace note of' : `${String(count)} grace notes of`} what is before`
        : `Write the ${notes} out`}
    </button>
  );
};

/** Under the chosen note, pointing at it: the note in words, and every correction as a button. */
export const NoteTools = (props: {
  piece: Piece;
  reading: Reading;
  systems: readonly PlacedSystem[];
}): ComponentChildren => {
  const { desk, asking } = useApp();
  const { piece, reading, systems } = props;
  const around = useRef<HTMLDivElement>(null);
  const strikes = desk.selectedNotes.value;
  const chosen = chosenNotes(desk, reading);
  const [first] = chosen;
  const at = placeOf(systems, strikes);
  const chosenName = strikes.join();
  useEffect(() => {
    // The note and its tools are always in sight, whichever key chose it.
    if (around.current !== null) bringIntoSight(around.current);
  }, [chosenName, at?.system.top]);
  if (first === undefined || at === undefined) return null;
  const inThree = beatIsInThree(reading, first.onset);
  const textOf = (correction: Correction): string =>
    correction.id === 'triplet' && inThree
      ? 'No triplet here'
      : correction.id === 'first' && desk.givesClickBack.value
        ? 'Click’s first beat'
        : correction.text;
  const top = countsBottom(at.system);
  return (
    <>
      <div
        ref={around}
        class="note-around"
        style={{ top: `${String(at.system.top)}px`, height: `${String(top + TOOLS)}px` }}
      />
      <div
        class="note-tools"
        role="group"
        aria-label="Correct the chosen note"
        style={{ top: `${String(at.system.top + top)}px`, '--at': `${String(at.x)}px` }}
      >
        <div class="chosen-note">
          {chosen.length === 1 ? (
            <>
              <ChosenNote piece={piece} reading={reading} note={first} />
              <button
                class="plain word"
                onClick={() => void asking.ask(keepBar, strikes)}
                title="K: reading anew leaves this bar as it is"
              >
                keep this bar
              </button>
            </>
          ) : (
            <>
              <b>{`${String(chosen.length)} notes`}</b>
              <FromNotes reading={reading} />
            </>
          )}
          <button
            class="plain word"
            title={ROLL_IT.keys}
            onClick={() => {
              ROLL_IT.run(desk, asking);
            }}
          >
            {first.roll === undefined ? ROLL_IT.text : 'Write the roll out'}
          </button>
          {chosen.length > 1 || first.gliss !== undefined ? (
            <button
              class="plain word"
              title={GLISS_IT.keys}
              onClick={() => {
                GLISS_IT.run(desk, asking);
              }}
            >
              {first.gliss === undefined ? GLISS_IT.text : 'Write the glissando out'}
            </button>
          ) : null}
          {chosen.length === 1 ? <NextBest piece={piece} reading={reading} note={first} /> : null}
          <GraceWords piece={piece} reading={reading} note={first} />
          {chosen.some(note => isPinned(piece, note.strike)) ? (
            <button class="plain word" onClick={() => void asking.ask(letGo, strikes)} title="U">
              Let it go
            </button>
          ) : null}
          <span class="grow-space" />
          <button
            class="tool"
            aria-label="Choose no note"
            title="Escape"
            onClick={() => {
              desk.run(selectNotes, []);
            }}
          >
            ✕
          </button>
        </div>
        <div class="tools">
          {CORRECTIONS.filter(correction => correction.needsNote).map(correction => (
            <CorrectionTool key={correction.id} correction={correction} text={textOf(correction)} />
          ))}
        </div>
      </div>
    </>
  );
};
