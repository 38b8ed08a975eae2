import type { ComponentChildren } from 'preact';
import type { Noticed } from '../../../../core/rehearse/notice.ts';

/** What each thing noticed is called, on the page's legend and in words. */
export const NOTICED_NAME: Readonly<Record<Noticed['kind'], string>> = {
  'in place': 'in its place',
  early: 'early',
  late: 'late',
  'other bar': 'another bar struck',
  'left out': 'left out',
  'cut short': 'glissando to be drawn on',
  added: 'more than written',
};

/** Each kind has a shape of its own about (x, y): told apart without any colour. */
const Shape = (props: { kind: Noticed['kind']; x: number; y: number }): ComponentChildren => {
  const { kind, x, y } = props;
  const at = `${String(x)} ${String(y)}`;
  switch (kind) {
    case 'in place':
      return <path class="noticed-line" d={`M ${at} m -4 0 l 3 4 l 6 -8`} />;
    case 'early':
      return <path class="noticed-full" d={`M ${at} m -7 0 l 7 -5 v 3 h 6 v 4 h -6 v 3 z`} />;
    case 'late':
      return <path class="noticed-full" d={`M ${at} m 7 0 l -7 -5 v 3 h -6 v 4 h 6 v 3 z`} />;
    case 'left out':
      return <ellipse class="noticed-line" cx={x} cy={y} rx="6" ry="4.5" />;
    case 'added':
      return <path class="noticed-line" d={`M ${at} m -5 -5 l 10 10 m 0 -10 l -10 10`} />;
    case 'cut short':
      // Level, for the line may have led up or down.
      return <path class="noticed-line" d={`M ${at} m -8 0 h 6 m 3 0 h 2 m 3 0 h 2`} />;
    case 'other bar':
      return <path class="noticed-line" d={`M ${at} m -6 -3 h 12 m 0 6 h -12 m 9 -8 l -6 10`} />;
  }
};

/** The same at another size about its place. */
export const NoticedShape = (props: {
  kind: Noticed['kind'];
  x: number;
  y: number;
  size?: number;
}): ComponentChildren => {
  const { kind, x, y, size = 1 } = props;
  if (size === 1) return <Shape kind={kind} x={x} y={y} />;
  return (
    <g transform={`translate(${String(x)} ${String(y)}) scale(${String(size)})`}>
      <Shape kind={kind} x={0} y={0} />
    </g>
  );
};
