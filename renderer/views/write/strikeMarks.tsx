import type { ComponentChildren } from 'preact';
import { useRef, useState } from 'preact/hooks';
import { equal, type Fraction, toNumber } from '../../../core/foundation/fraction.ts';
import { gridUnit, nearestGridPosition } from '../../../core/piece/gridPositions.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import { countWords } from '../../../core/piece/positionWords.ts';
import type { Reading, ReadNote } from '../../../core/reading/model/reading.ts';
import { xOfPlace } from '../../page/drawScore.ts';
import { useApp } from '../../desk/appContext.ts';
import { isPinned, placeAt, writeDropped } from '../../desk/commands/pins.ts';
import { selectNotes } from '../../desk/commands/settings.ts';
import type { PlacedSystem } from '../parts/scorePage.tsx';
import { placeOfX } from './placeOfX.ts';

/** A pull shorter than this, in CSS pixels, is a press. */
const PRESS = 5;

interface Pull {
  readonly x: number;
  readonly place: Fraction;
}

/**
 * One strike over the stave: a mark where the mallet fell, led to the note it is written as. Pulling
 * the mark puts the note at another place of the grid; a press chooses the note. A hollow mark is a
 * strike that was left out as a bounce: a press writes it.
 */
export const StrikeMark = (props: {
  system: PlacedSystem;
  piece: Piece;
  reading: Reading;
  strike: number;
  place: number;
  note: ReadNote | undefined;
  lineY: number;
  bottom: number;
}): ComponentChildren => {
  const { desk, asking } = useApp();
  const { system, piece, reading, note, lineY, strike } = props;
  const [pull, setPull] = useState<Pull | undefined>(undefined);
  const from = useRef<number | undefined>(undefined);
  const x = xOfPlace(system, props.place);
  // A later stroke of a roll or a glissando says nothing of where its note stands.
  const isStroke = note !== undefined && note.strike !== strike;
  const written = note === undefined || isStroke ? x : xOfPlace(system, toNumber(note.onset));
  const pinned = isPinned(piece, strike);
  const chosen = desk.selectedNotes.value.includes(note?.strike ?? strike);
  const move = (event: PointerEvent): void => {
    if (from.current === undefined || note === undefined || isStroke) return;
    const pulled = event.clientX - from.current;
    if (Math.abs(pulled) < PRESS && pull === undefined) return;
    const at = placeOfX(system, written + pulled);
    const place = nearestGridPosition(at, gridUnit(piece.hints, reading, note));
    setPull({ x: xOfPlace(system, toNumber(place)), place });
  };
  const end = (event: PointerEvent): void => {
    if (from.current === undefined) return;
    from.current = undefined;
    (event.currentTarget as Element).releasePointerCapture(event.pointerId);
    const asked = pull;
    setPull(undefined);
    desk.run(selectNotes, [note?.strike ?? strike]);
    if (note === undefined) void asking.ask(writeDropped, strike);
    else {
      if (asked !== undefined && !equal(asked.place, note.onset)) void asking.ask(placeAt, note, asked.place);
    }
  };
  return (
    <g class={`strike${chosen ? ' chosen' : ''}${note === undefined ? ' dropped' : ''}`}>
      {Math.abs(x - written) > 3 && pull === undefined ? (
        <line class="strike-lead" x1={x} y1={lineY} x2={written} y2={lineY + 10} />
      ) : null}
      {pull === undefined ? null : (
        <>
          <line class="strike-ghost" x1={pull.x} y1={lineY} x2={pull.x} y2={props.bottom} />
          <text class="strike-ghost-text" x={pull.x} y={lineY - 14}>
            {countWords(reading.metre, pull.place)}
          </text>
        </>
      )}
      <path d={`M ${String(x - 5)} ${String(lineY - 9)} h 10 l -5 9 z`} />
      {pinned ? <rect class="pinned" x={x - 6} y={lineY - 14} width={12} height={3} rx={1.5} /> : null}
      <rect
        class="strike-grip"
        data-strike={strike}
        x={x - 12}
        y={lineY - 20}
        width={24}
        height={26}
        onPointerDown={event => {
          if (event.button !== 0) return;
          event.preventDefault();
          from.current = event.clientX;
          event.currentTarget.setPointerCapture(event.pointerId);
        }}
        onPointerMove={move}
        onPointerUp={end}
        onPointerCancel={() => {
          from.current = undefined;
          setPull(undefined);
        }}
      >
        <title>
          {note === undefined
            ? 'Left out as a bounce. Press to write it.'
            : isStroke
              ? `A stroke of the ${note.roll === undefined ? 'glissando' : 'roll'}. Press to choose its note.`
              : 'Where the mallet fell. Pull it to write the note elsewhere.'}
        </title>
      </rect>
    </g>
  );
};
