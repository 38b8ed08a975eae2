import type { ComponentChildren } from 'preact';
import { strikePlaces } from '../../../core/piece/strikePlaces.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import type { Reading } from '../../../core/reading/reading.ts';
import { countOf } from '../../../core/score/counts.ts';
import { toNumber } from '../../../core/foundation/fraction.ts';
import { xOfPlace } from '../../page/drawScore.ts';
import { cursor, selectedNotes } from '../../store/app.ts';
import { CursorLine, type PlacedSystem } from '../parts/scorePage.tsx';

/** Doubt above this is shown. */
export const DOUBTFUL = 0.25;

const LINE = 14;

/**
 * Laid over the page: above each stave a line with a mark where the mallet really fell, below it
 * the counts, and a diamond under every note that may belong elsewhere.
 */
export const StrikeLine = (props: {
  systems: readonly PlacedSystem[];
  piece: Piece;
  reading: Reading;
}): ComponentChildren => {
  const { systems, piece, reading } = props;
  const places = strikePlaces(piece.take, reading);
  const notes = new Map(reading.notes.map(note => [note.strike, note]));
  const selected = new Set(selectedNotes.value);
  const at = cursor.value;
  return (
    <>
      {systems.map((system, index) => {
        const [stave] = system.staves;
        if (stave === undefined) return null;
        const last = index === systems.length - 1;
        const inHere = (place: number): boolean =>
          (place >= system.from - 1e-9 || index === 0) && (place < system.to - 1e-9 || last);
        const lineY = Math.max(LINE, stave.inkTop - 18);
        const countY = Math.max(stave.bottom + 34, stave.inkBottom + 22);
        return (
          <div
            class="over"
            key={index}
            style={{ top: `${String(system.top)}px`, height: `${String(system.height)}px` }}
          >
            <svg width="100%" height={system.height} aria-hidden="true">
              <line class="strike-rail" x1={system.startX - 4} x2={system.endX} y1={lineY} y2={lineY} />
              {piece.take.strikes.map((strike, i) => {
                const place = places[i] ?? 0;
                const note = notes.get(i);
                const written = note === undefined ? place : toNumber(note.onset);
                if (!inHere(written)) return null;
                const x = xOfPlace(system, place);
                const target = xOfPlace(system, written);
                return (
                  <g
                    key={i}
                    class={`strike${selected.has(i) ? ' chosen' : ''}${note === undefined ? ' dropped' : ''}`}
                  >
                    {Math.abs(x - target) > 3 ? (
                      <line class="strike-lead" x1={x} y1={lineY} x2={target} y2={lineY + 10} />
                    ) : null}
                    <path d={`M ${String(x - 5)} ${String(lineY - 9)} h 10 l -5 9 z`} />
                    <title>{`strike ${String(i + 1)}`}</title>
                    {strike.velocity > 110 ? <circle cx={x} cy={lineY - 12} r={1.5} /> : null}
                  </g>
                );
              })}
              {system.symbols.map((symbol, i) =>
                symbol.rest || symbol.tiedFrom ? null : (
                  <text key={i} class="count" x={symbol.x} y={countY}>
                    {countOf(reading.metre, toFractionOf(symbol.at))}
                  </text>
                ),
              )}
              {system.symbols.map((symbol, i) => {
                const doubt = Math.max(0, ...symbol.refs.map(ref => notes.get(Number(ref))?.doubt ?? 0));
                if (symbol.tiedFrom || doubt < DOUBTFUL) return null;
                const y = countY + 16;
                return (
                  <path
                    key={`d${String(i)}`}
                    class="doubt"
                    d={`M ${String(symbol.x)} ${String(y - 7)} l 7 7 l -7 7 l -7 -7 z`}
                  />
                );
              })}
              {system.symbols.map((symbol, i) =>
                symbol.refs.some(ref => selected.has(Number(ref))) ? (
                  <rect
                    key={`s${String(i)}`}
                    class="selected-note"
                    x={symbol.x - 13}
                    y={symbol.top - 6}
                    width={26}
                    height={symbol.bottom - symbol.top + 12}
                    rx={5}
                  />
                ) : null,
              )}
            </svg>
            {at !== undefined && inHere(at) ? (
              <CursorLine x={xOfPlace(system, at)} top={lineY} height={stave.bottom - lineY + 16} />
            ) : null}
          </div>
        );
      })}
    </>
  );
};

/** Places on a page are multiples of 1/192 of a semibreve at the finest. */
const toFractionOf = (at: number): { n: number; d: number } => ({ n: Math.round(at * 192), d: 192 });
