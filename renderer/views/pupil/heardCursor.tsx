import type { ComponentChildren } from 'preact';
import { MovingCursor } from '../parts/movingCursor.tsx';
import type { PlacedSystem } from '../parts/scorePage.tsx';

const topOf = (system: PlacedSystem): number => (system.staves[0]?.top ?? 0) - 10;
const bottomOf = (system: PlacedSystem): number => (system.staves.at(-1)?.bottom ?? 0) + 10;

/** Where the tune is, while it is heard. */
export const HeardCursor = (props: { systems: readonly PlacedSystem[] }): ComponentChildren => (
  <MovingCursor systems={props.systems} top={topOf} bottom={bottomOf} />
);
