import type { ComponentChildren } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import { fraction, toNumber } from '../../../core/foundation/fraction.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import type { Reading, ReadNote } from '../../../core/reading/model/reading.ts';
import { countOf, unstruckBeats } from '../../../core/score/counts.ts';
import { xOfPlace } from '../../page/drawScore.ts';
import { useApp } from '../../desk/appContext.ts';
import { selectNotes } from '../../desk/commands/settings.ts';
import { MovingCursor } from '../parts/movingCursor.tsx';
import type { PlacedSystem } from '../parts/scorePage.tsx';
import { StrikeMark } from './strikeMarks.tsx';
import { strikesOnPage } from './strikesOnPage.ts';

/** Doubt above this is shown. */
export const DOUBTFUL = 0.25;

/** Where most notes are in doubt it is the beat that is, and a mark under each says nothing. */
export const doubtsTheBeat = (reading: Reading): boolean =>
  reading.notes.length > 4 &&
  reading.notes.filter(note => note.doubt >= DOUBTFUL).length > 0.6 * reading.notes.length;

const LINE = 14;

const railOf = (system: PlacedSystem): number => Math.max(LINE, (system.staves[0]?.inkTop ?? 0) - 18);
const bottomOf = (system: PlacedSystem): number => (system.staves[0]?.bottom ?? 0) + 16;
/** Where the counts stand. */
const countsOf = (stave: PlacedSystem['staves'][number]): number =>
  Math.max(stave.bottom + 34, stave.inkBottom + 22);
/** Under the counts and the marks of doubt, from the top of the system. */
export const countsBottom = (system: PlacedSystem): number => {
  const [stave] = system.staves;
  return stave === undefined ? system.height : countsOf(stave) + 28;
};
/** Nearer than this to a count another one is left out, in CSS pixels. */
const ROOM = 20;
/** How many other places of a doubtful note are shown. */
const OTHERS = 2;

type Symbol = PlacedSystem['symbols'][number];

/** A diamond under a note that may belong elsewhere; looking at it shows where. */
const Doubt = (props: {
  x: number;
  y: number;
  note: ReadNote;
  onLook: (strike: number | undefined) => void;
}): ComponentChildren => {
  const { desk } = useApp();
  return (
    <path
      class="doubt"
      d={`M ${String(props.x)} ${String(props.y - 7)} l 7 7 l -7 7 l -7 -7 z`}
      onPointerEnter={() => {
        props.onLook(props.note.strike);
      }}
      onPointerLeave={() => {
        props.onLook(undefined);
      }}
      onClick={() => {
        desk.run(selectNotes, [props.note.strike]);
      }}
    >
      <title>Not sure of this note: it may belong at the other mark.</title>
    </path>
  );
};

/** Where else a note may belong: dotted lines down to its other places. */
const Elsewhere = (props: {
  system: PlacedSystem;
  note: ReadNote;
  from: number;
  y: number;
}): ComponentChildren => (
  <>
    {(props.note.elsewhere ?? []).slice(0, OTHERS).map((place, i) => {
      const x = xOfPlace(props.system, toNumber(place));
      return (
        <g key={i} class="elsewhere">
          <line x1={props.from} y1={props.y} x2={x} y2={props.y} />
          <path d={`M ${String(x)} ${String(props.y - 5)} l 5 5 l -5 5 l -5 -5 z`} />
        </g>
      );
    })}
  </>
);

/** The box round a chosen note, or round one that followed a correction. */
const Box = (props: { symbol: Symbol; kind: 'selected-note' | 'followed-note' }): ComponentChildren => (
  <rect
    class={props.kind}
    x={props.symbol.x - 13}
    y={props.symbol.top - 6}
    width={26}
    height={props.symbol.bottom - props.symbol.top + 12}
    rx={5}
  />
);

/**
 * Laid over the page: above each stave a line with a mark where the mallet really fell, below it
 * the counts, and a diamond under every note that may belong elsewhere.
 */
export const StrikeLine = (props: {
  systems: readonly PlacedSystem[];
  piece: Piece;
  reading: Reading;
}): ComponentChildren => {
  const { desk } = useApp();
  const { systems, piece, reading } = props;
  const [looked, setLooked] = useState<number | undefined>(undefined);
  const notes = useMemo(() => new Map(reading.notes.map(note => [note.strike, note])), [reading]);
  const beatOpen = useMemo(() => doubtsTheBeat(reading), [reading]);
  // Where a system ends does not change when it is drawn.
  const ends = systems.map(system => system.to).join();
  const rows = useMemo(() => strikesOnPage(piece.take, reading, systems), [piece.take, reading, ends]);
  const selected = new Set(desk.selectedNotes.value);
  const after = new Set(desk.followed.value);
  return (
    <>
      {systems.map((system, index) => {
        const [stave] = system.staves;
        // Far from what is seen a system is not drawn yet, and needs nothing laid over it.
        const drawn = system.symbols.some(symbol => symbol.element !== undefined);
        if (stave === undefined || !drawn) return null;
        const lineY = railOf(system);
        const countY = countsOf(stave);
        const struck = system.symbols.filter(symbol => !symbol.rest && !symbol.tiedFrom);
        const silent = unstruckBeats(
          reading.metre,
          toFractionOf(system.from),
          toFractionOf(system.to),
          struck.map(symbol => toFractionOf(symbol.at)),
        )
          .map(beat => ({ ...beat, x: xOfPlace(system, toNumber(beat.at)) }))
          .filter(({ x }) => struck.every(symbol => Math.abs(symbol.x - x) > ROOM));
        const noteOf = (symbol: Symbol): ReadNote | undefined =>
          symbol.refs.map(ref => notes.get(Number(ref))).find(note => note !== undefined);
        return (
          <div
            class="over"
            key={index}
            style={{ top: `${String(system.top)}px`, height: `${String(system.height)}px` }}
          >
            <svg width="100%" height={system.height} aria-hidden="true">
              <line class="strike-rail" x1={system.startX - 4} x2={system.endX} y1={lineY} y2={lineY} />
              {struck.map((symbol, i) => (
                <text key={i} class="count" x={symbol.x} y={countY}>
                  {countOf(reading.metre, toFractionOf(symbol.at))}
                </text>
              ))}
              {silent.map(({ x, count }, i) => (
                <text key={`u${String(i)}`} class="count unstruck" x={x} y={countY}>
                  ({count})
                </text>
              ))}
              {system.symbols.map((symbol, i) => {
                const note = noteOf(symbol);
                if (symbol.tiedFrom || note === undefined || note.doubt < DOUBTFUL || beatOpen) return null;
                const y = countY + 16;
                return (
                  <g key={`d${String(i)}`}>
                    <Doubt x={symbol.x} y={y} note={note} onLook={setLooked} />
                    {looked === note.strike || selected.has(note.strike) ? (
                      <Elsewhere system={system} note={note} from={symbol.x} y={y} />
                    ) : null}
                  </g>
                );
              })}
              {system.symbols.map((symbol, i) =>
                symbol.refs.some(ref => selected.has(Number(ref))) ? (
                  <Box key={`s${String(i)}`} symbol={symbol} kind="selected-note" />
                ) : symbol.refs.some(ref => after.has(Number(ref))) ? (
                  <Box key={`f${String(i)}`} symbol={symbol} kind="followed-note" />
                ) : null,
              )}
              {rows[index]?.map(({ strike, place, note }) => (
                <StrikeMark
                  key={strike}
                  system={system}
                  piece={piece}
                  reading={reading}
                  strike={strike}
                  place={place}
                  note={note}
                  lineY={lineY}
                  bottom={stave.bottom}
                />
              ))}
            </svg>
          </div>
        );
      })}
      <MovingCursor systems={systems} top={railOf} bottom={bottomOf} />
    </>
  );
};

/** Places on a page are multiples of 1/192 of a semibreve at the finest. */
const toFractionOf = (at: number): { n: number; d: number } => fraction(Math.round(at * 192), 192);
