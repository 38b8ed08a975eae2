import type { PlacedSystem } from '../parts/scorePage.tsx';

/** The place, in semibreves, drawn at `x` of a system: straight lines between the places that are drawn. */
export const placeOfX = (
  system: Pick<PlacedSystem, 'anchors' | 'from' | 'to' | 'endX'>,
  x: number,
): number => {
  const points = [...system.anchors, { at: system.to, x: system.endX }];
  let before = points[0] ?? { at: system.from, x: 0 };
  for (const point of points) {
    if (point.x > x && point.x > before.x)
      return before.at + ((point.at - before.at) * Math.max(0, x - before.x)) / (point.x - before.x);
    before = point;
  }
  return system.to;
};
