import type { ComponentChildren } from 'preact';
import type { PlacedSystem } from './scorePage.tsx';

/** Signs drawn over each system of a page. They are for the eye: the same must stand in words elsewhere. */
export const OverSystems = (props: {
  systems: readonly PlacedSystem[];
  children: (system: PlacedSystem) => ComponentChildren;
}): ComponentChildren =>
  props.systems.map((system, index) => (
    <div
      class="over"
      key={index}
      style={{ top: `${String(system.top)}px`, height: `${String(system.height)}px` }}
      aria-hidden="true"
    >
      <svg>{props.children(system)}</svg>
    </div>
  ));
