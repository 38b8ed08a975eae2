import type { ComponentChildren } from 'preact';
import { useApp } from '../../desk/appContext.ts';
import { xOfPlace } from '../../page/system.ts';
import { useFollowing } from './following.ts';
import type { PlacedSystem } from './scorePage.tsx';

/** The moving line that shows what is being heard. */
const CursorLine = (props: { x: number; top: number; height: number }): ComponentChildren => (
  <div
    class="cursor-line"
    style={{
      transform: `translate(${String(props.x)}px, ${String(props.top)}px)`,
      height: `${String(props.height)}px`,
    }}
    aria-hidden="true"
  />
);

/** The line in the system that is being heard; it alone is drawn anew as the music moves on. */
export const MovingCursor = (props: {
  systems: readonly PlacedSystem[];
  top: (system: PlacedSystem) => number;
  bottom: (system: PlacedSystem) => number;
}): ComponentChildren => {
  const { desk } = useApp();
  const at = desk.cursor.value;
  const { systems } = props;
  // While a bar is counted the page stands where the music will begin, and no line moves.
  const startsAt = desk.hearing.value?.startsAt ?? -Infinity;
  const place = at === undefined ? undefined : Math.max(at, startsAt);
  const system =
    place === undefined ? undefined : systems.find((s, i) => place < s.to - 1e-9 || i === systems.length - 1);
  useFollowing(system?.element);
  if (at === undefined || system === undefined || at < startsAt) return null;
  const top = props.top(system);
  return <CursorLine x={xOfPlace(system, at)} top={system.top + top} height={props.bottom(system) - top} />;
};
