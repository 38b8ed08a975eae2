import type { ComponentChildren } from 'preact';
import { toNumber } from '../../../core/foundation/fraction.ts';
import type { Score } from '../../../core/score/score.ts';
import { xOfPlace } from '../../page/drawScore.ts';
import { useApp } from '../../desk/appContext.ts';
import { MovingCursor } from '../parts/movingCursor.tsx';
import type { PlacedSystem } from '../parts/scorePage.tsx';

const topOf = (system: PlacedSystem): number => (system.staves[0]?.top ?? 0) - 10;
const bottomOf = (system: PlacedSystem): number => (system.staves.at(-1)?.bottom ?? 0) + 10;

/** Brackets over the staves, each a button that names and chooses its statement; and the cursor. */
export const Brackets = (props: {
  systems: readonly PlacedSystem[];
  score: Score;
  chosen: string | undefined;
  tried: string | undefined;
  /** Absent where brackets are words only. */
  onChoose?: (id: string) => void;
  /** How far over the notes a bracket stands, in CSS pixels. */
  rise?: number;
  /** Whether brackets name their part, where the staves do not. */
  named?: boolean;
}): ComponentChildren => {
  const { desk } = useApp();
  const partOf = (id: string): string =>
    props.score.parts.find(part => part.id === id)?.name.toLowerCase() ?? '';
  return (
    <>
      {props.systems.map((system, index) => {
        return (
          <div
            class="over"
            key={index}
            style={{ top: `${String(system.top)}px`, height: `${String(system.height)}px` }}
          >
            {props.score.brackets.map(bracket => {
              const stave = system.staves.find(s => s.part === bracket.part);
              const from = toNumber(bracket.from);
              const to = toNumber(bracket.to);
              if (stave === undefined || to <= system.from + 1e-9 || from >= system.to - 1e-9) return null;
              const begins = from >= system.from - 1e-9;
              const ends = to <= system.to + 1e-9;
              const left = begins ? xOfPlace(system, from) - 12 : system.startX - 6;
              const right = ends ? xOfPlace(system, to) - 8 : system.endX;
              const state = `${props.chosen === bracket.id ? ' chosen' : ''}${props.tried === bracket.id ? ' tried' : ''}${desk.rippled.value.includes(bracket.id) ? ' rippled' : ''}`;
              const drawn = {
                key: bracket.id,
                class: `bracket${begins ? ' begins' : ''}${ends ? ' ends' : ''}${state}`,
                style: {
                  left: `${String(left)}px`,
                  width: `${String(Math.max(30, right - left))}px`,
                  top: `${String(Math.max(0, stave.inkTop - (props.rise ?? 30)))}px`,
                },
              };
              const words = (
                <span class="bracket-text">
                  {begins
                    ? `${props.named === true ? `${partOf(bracket.part)}: ` : ''}${bracket.text}`
                    : `(${bracket.text})`}
                  {desk.rippled.value.includes(bracket.id) ? ' ↻ followed the motif' : ''}
                </span>
              );
              const { onChoose } = props;
              if (onChoose === undefined) return <div {...drawn}>{words}</div>;
              return (
                <button
                  {...drawn}
                  aria-pressed={props.chosen === bracket.id}
                  onClick={() => {
                    onChoose(bracket.id);
                  }}
                >
                  {words}
                </button>
              );
            })}
          </div>
        );
      })}
      <MovingCursor systems={props.systems} top={topOf} bottom={bottomOf} />
    </>
  );
};
