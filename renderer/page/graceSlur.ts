import { type GraceNote, GraceNoteGroup, type StaveNote } from 'vexflow/bravura';
import { svg } from './svg.ts';

/**
 * The slur from a grace note to its note, after both are drawn: under the heads, for the small stem points up,
 * and ending before the head, so that it meets no stem (common practice, no source).
 */
export const graceSlur = (note: StaveNote): SVGElement | undefined => {
  const group = note.getModifiers().find((m): m is GraceNoteGroup => m instanceof GraceNoteGroup);
  const grace = group?.getGraceNotes()[0] as GraceNote | undefined;
  if (grace === undefined) return undefined;
  const x1 = grace.getAbsoluteX() + 4;
  const y1 = Math.max(...grace.getYs()) + 5;
  const x2 = note.getNoteHeadBeginX() - 1.5;
  const y2 = Math.max(...note.getYs()) + 3;
  const dip = 5;
  const [a, b] = [x1 + (x2 - x1) * 0.25, x1 + (x2 - x1) * 0.7];
  const [low, up] = [Math.max(y1, y2) + dip, Math.max(y1, y2) + dip - 1.8];
  const n = (value: number): string => value.toFixed(2);
  return svg('path', {
    class: 'grace-slur',
    d: `M${n(x1)} ${n(y1)}C${n(a)} ${n(low)} ${n(b)} ${n(low)} ${n(x2)} ${n(y2)}C${n(b)} ${n(up)} ${n(a)} ${n(up)} ${n(x1)} ${n(y1)}Z`,
    fill: 'black',
    stroke: 'none',
  });
};
