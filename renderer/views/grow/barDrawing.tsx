import type { ComponentChildren } from 'preact';
import { isNatural } from '../../../core/foundation/pitch.ts';
import { toneBarShapes } from '../../../core/instruments/toneBarShape.ts';
import { type ToneBarSet, toneBarState } from '../../../core/playable/toneBarSet.ts';
import type { NeededToneBar } from '../../../core/playable/check.ts';
import { toneBarName } from '../../../core/playable/words.ts';

/** Width of a natural's place, in pixels, and the height of the drawing. */
const PLACE = 20;
const HEIGHT = 96;
/** Share of the height that the longest bar takes, and where each row's middle lies. */
const LONGEST = 0.4;
const FRONT = 0.63;
const BEHIND = 0.2;

const naturalFrom = (pitch: number, by: 1 | -1): number => (isNatural(pitch) ? pitch : pitch + by);

/** An instrument from above with the bars to set out marked by a dot, those it has not by a cross. */
export const BarDrawing = (props: {
  set: ToneBarSet;
  needed: readonly NeededToneBar[];
}): ComponentChildren => {
  const { set, needed } = props;
  const wanted = new Set(needed.map(bar => bar.pitch));
  const low = naturalFrom(Math.min(set.low, ...wanted), -1);
  const high = naturalFrom(Math.max(set.high, ...wanted), 1);
  const shapes = toneBarShapes(low, high);
  const width = shapes.filter(bar => bar.natural).length * PLACE;
  const here = needed.filter(bar => bar.state === 'there').map(bar => bar.name);
  const lacking = needed.filter(bar => bar.state !== 'there').map(bar => bar.name);
  const label = `${set.name}: ${here.length === 0 ? 'no bars' : here.join(', ')} to set out${lacking.length === 0 ? '' : `; without a bar: ${lacking.join(', ')}`}`;
  return (
    <svg
      class={`bar-drawing ${set.plays === 'glockenspiel' || set.plays === 'vibraphone' ? 'metal' : 'wood'}`}
      width={width}
      height={HEIGHT}
      viewBox={`0 0 ${String(width)} ${String(HEIGHT)}`}
      role="img"
      aria-label={label}
    >
      {shapes.map(bar => {
        const there = toneBarState(set, bar.pitch) === 'there';
        const marked = wanted.has(bar.pitch);
        if (!there && !marked && (bar.pitch < set.low || bar.pitch > set.high || !bar.natural)) return null;
        const x = bar.x * width;
        const across = bar.width * width;
        const height = bar.length * LONGEST * HEIGHT;
        const middle = (bar.natural ? FRONT : BEHIND) * HEIGHT;
        const centre = x + across / 2;
        return (
          <g key={bar.pitch}>
            <rect
              class={`${there ? 'there' : 'gone'}${marked ? ' needed' : ''}`}
              x={x}
              y={middle - height / 2}
              width={across}
              height={height}
              rx={2}
            />
            {!marked ? null : there ? (
              <circle cx={centre} cy={middle} r={4.5} />
            ) : (
              <path d={`M${String(centre - 5)} ${String(middle - 5)}l10 10m0 -10l-10 10`} class="cross" />
            )}
            {bar.natural && bar.pitch % 12 === 0 ? (
              <text x={centre} y={HEIGHT - 2}>
                {toneBarName(bar.pitch)}
              </text>
            ) : null}
          </g>
        );
      })}
    </svg>
  );
};
