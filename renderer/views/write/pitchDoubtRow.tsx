import type { ComponentChildren } from 'preact';
import { spell } from '../../../core/foundation/key.ts';
import { pitchName } from '../../../core/foundation/pitch.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import { pitchDoubts, strikeDoubts } from '../../../core/piece/pitchDoubts.ts';
import { spelledNote } from '../../../core/piece/spelledNote.ts';
import type { ReadNote, Reading } from '../../../core/reading/model/reading.ts';
import { useApp } from '../../desk/appContext.ts';
import { makePitch, takeOut } from '../../desk/commands/corrections.ts';
import type { Desk } from '../../desk/desk.ts';
import type { PlacedSystem } from '../parts/scorePage.tsx';
import { countsBottom } from './strikeLine.tsx';

/** What may be wrong with a note that was heard, and the one action that mends it. */
interface HeardDoubt {
  readonly note: ReadNote;
  /** Under the note, among its tools, read aloud, and why. */
  readonly short: string;
  readonly word: string;
  readonly label: string;
  readonly title: string;
  readonly mend: (desk: Desk) => void;
}

const doubtsOf = (piece: Piece, reading: Reading): readonly HeardDoubt[] => {
  const nameOf = (note: ReadNote): string => pitchName(spelledNote(reading, piece.key, note));
  const bars = pitchDoubts(piece).map(({ note, nextBest }): HeardDoubt => {
    const other = pitchName(spell(piece.key, nextBest));
    const now = nameOf(note);
    const why =
      Math.abs(nextBest - note.pitch) === 1
        ? `This ${now} was between two bars.`
        : `${other} began to sound, too.`;
    return {
      note,
      short: `${other}?`,
      word: `Perhaps ${other}`,
      label: `${now} may have been ${other}: write ${other}`,
      title: `${why} Press to write ${other}.`,
      mend: desk => {
        desk.run(makePitch, note, nextBest);
      },
    };
  });
  const strikes = strikeDoubts(piece).map((note): HeardDoubt => {
    const now = nameOf(note);
    return {
      note,
      short: 'out?',
      word: 'Perhaps not theirs',
      label: `${now} may be somebody else’s: take it out`,
      title: `This ${now} was far softer than the others, as from another group. Press to take it out.`,
      mend: desk => {
        desk.run(takeOut, note);
      },
    };
  });
  return [...bars, ...strikes];
};

/** Under the counts of a note that was heard in doubt: what it may have been, and a press writes it. */
export const PitchDoubtRow = (props: {
  systems: readonly PlacedSystem[];
  piece: Piece;
  reading: Reading;
}): ComponentChildren => {
  const { desk } = useApp();
  const all = doubtsOf(props.piece, props.reading);
  // One under each note; a second stands among its tools.
  const doubts = all.filter((one, i) => all.findIndex(other => other.note.strike === one.note.strike) === i);
  if (doubts.length === 0) return null;
  return (
    <>
      {props.systems.flatMap((system, s) =>
        doubts.flatMap(({ note, short, label, title, mend }) => {
          const symbol = system.symbols.find(
            one => !one.tiedFrom && one.refs.includes(String(note.strike)) && one.element !== undefined,
          );
          if (symbol === undefined) return [];
          return [
            <button
              key={`${String(s)} ${String(note.strike)}`}
              class="pitch-doubt"
              style={{
                left: `${String(symbol.x)}px`,
                top: `${String(system.top + countsBottom(system))}px`,
              }}
              aria-label={label}
              title={title}
              onClick={() => {
                mend(desk);
              }}
            >
              {short}
            </button>,
          ];
        }),
      )}
    </>
  );
};

/** The same among the tools of a chosen note, which stand over the row. */
export const NextBest = (props: { piece: Piece; reading: Reading; note: ReadNote }): ComponentChildren => {
  const { desk } = useApp();
  return (
    <>
      {doubtsOf(props.piece, props.reading)
        .filter(one => one.note.strike === props.note.strike)
        .map(({ word, title, mend }) => (
          <button
            key={word}
            class="plain word"
            title={title}
            onClick={() => {
              mend(desk);
            }}
          >
            {word}
          </button>
        ))}
    </>
  );
};

/** What can be done with the sound of an idea that was heard. */
export const SoundOfIdea = (): ComponentChildren => {
  const { desk, hearingAgain } = useApp();
  return (
    <>
      {desk.canKeepSound.value && (
        <button
          class="tool"
          title="The sound of this idea is in this window alone, and is thrown away with it: this makes a WAV file of it."
          onClick={hearingAgain.keep}
        >
          Keep the sound
        </button>
      )}
      {desk.canHearAgain.value && (
        <button
          class="tool"
          title="Its sound is heard once more by what you put right: what was heard like it is put right, too."
          onClick={() => void hearingAgain.again()}
        >
          Listen again
        </button>
      )}
    </>
  );
};
