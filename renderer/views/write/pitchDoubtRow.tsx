import type { ComponentChildren } from 'preact';
import { spell } from '../../../core/foundation/key.ts';
import { pitchName } from '../../../core/foundation/pitch.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import { pitchDoubts } from '../../../core/piece/pitchDoubts.ts';
import { spelledNote } from '../../../core/piece/spelledNote.ts';
import type { ReadNote, Reading } from '../../../core/reading/model/reading.ts';
import { useApp } from '../../desk/appContext.ts';
import { makePitch } from '../../desk/commands/corrections.ts';
import type { PlacedSystem } from '../parts/scorePage.tsx';
import { countsBottom } from './strikeLine.tsx';

/** Under the counts of a note whose bar may have been another: that one, and a press writes it. */
export const PitchDoubtRow = (props: {
  systems: readonly PlacedSystem[];
  piece: Piece;
  reading: Reading;
}): ComponentChildren => {
  const { desk } = useApp();
  const { piece, reading } = props;
  const doubts = pitchDoubts(piece);
  if (doubts.length === 0) return null;
  return (
    <>
      {props.systems.flatMap((system, s) =>
        doubts.flatMap(({ note, nextBest }) => {
          const symbol = system.symbols.find(
            one => !one.tiedFrom && one.refs.includes(String(note.strike)) && one.element !== undefined,
          );
          if (symbol === undefined) return [];
          const other = pitchName(spell(piece.key, nextBest));
          const now = pitchName(spelledNote(reading, piece.key, note));
          return [
            <button
              key={`${String(s)} ${String(note.strike)}`}
              class="pitch-doubt"
              style={{
                left: `${String(symbol.x)}px`,
                top: `${String(system.top + countsBottom(system))}px`,
              }}
              aria-label={`${now} may have been ${other}: write ${other}`}
              title={`This ${now} was between two bars. Press to write ${other}.`}
              onClick={() => {
                desk.run(makePitch, note, nextBest);
              }}
            >
              {other}?
            </button>,
          ];
        }),
      )}
    </>
  );
};

/** The same among the tools of a chosen note, which stand over the row. */
export const NextBest = (props: { piece: Piece; note: ReadNote }): ComponentChildren => {
  const { desk } = useApp();
  const { piece, note } = props;
  const doubt = pitchDoubts(piece).find(one => one.note.strike === note.strike);
  if (doubt === undefined) return null;
  const other = pitchName(spell(piece.key, doubt.nextBest));
  return (
    <button
      class="plain word"
      title="It was between two bars."
      onClick={() => {
        desk.run(makePitch, doubt.note, doubt.nextBest);
      }}
    >
      {`Perhaps ${other}`}
    </button>
  );
};
