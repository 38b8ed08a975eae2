import type { ComponentChildren } from 'preact';
import { useMemo } from 'preact/hooks';
import { isNatural } from '../../core/foundation/pitch.ts';
import { toneBarShapes } from '../../core/instruments/toneBarShape.ts';
import { afterThe } from '../../core/plan/partList.ts';
import { toneBarName } from '../../core/playable/words.ts';
import { struckBarsOf, toneBarsAt } from '../../core/score/struckBars.ts';
import type { ScorePart } from '../../core/score/score.ts';
import { useApp } from '../desk/appContext.ts';

/** Share of the height that the longest bar takes, and where each row's middle lies, in per cent of the drawing. */
const LONGEST = 46;
const FRONT = 75;
const BEHIND = 25;
/** Fewest naturals drawn: fewer would be bars as wide as tables. */
const LEAST = 8;

const naturalFrom = (pitch: number, by: 1 | -1): number => (isNatural(pitch) ? pitch : pitch + by);

/** The naturals from the lowest to the highest bar a part needs, and on upward until there are some. */
const rangeOf = (pitches: readonly number[]): readonly [low: number, high: number] => {
  const low = naturalFrom(Math.min(...pitches), -1);
  let high = naturalFrom(Math.max(...pitches), 1);
  const naturals = (): number =>
    Array.from({ length: high - low + 1 }, (_, i) => low + i).filter(isNatural).length;
  while (naturals() < LEAST) high = naturalFrom(high + 1, 1);
  return [low, high];
};

/**
 * The bars of one part, drawn under the page of the projector: what is struck now has a mallet's head and a frame and
 * is pressed down, what comes next an open triangle. Never by colour alone.
 */
export const ProjectorBars = (props: { part: ScorePart }): ComponentChildren => {
  const { desk } = useApp();
  const { part } = props;
  const blows = useMemo(() => struckBarsOf(part), [part]);
  const used = useMemo(() => [...new Set(blows.flatMap(blow => blow.pitches))], [blows]);
  const startsAt = desk.hearing.value?.startsAt ?? -Infinity;
  const cursor = desk.cursor.value;
  // While a bar is counted, what comes first is what comes next.
  const { now, next } = toneBarsAt(blows, cursor === undefined || cursor < startsAt ? undefined : cursor);
  if (used.length === 0)
    return (
      <p class="projector-none" role="status">
        The {afterThe(part.name)} has no notes yet.
      </p>
    );
  const [low, high] = rangeOf(used);
  const metal = part.instrument === 'glockenspiel' || part.instrument === 'vibraphone';
  return (
    <div
      class={`projector-bars ${metal ? 'metal' : 'wood'}`}
      role="img"
      aria-label={`Bars of the ${afterThe(part.name)}: what is struck now, and what comes next`}
    >
      {toneBarShapes(low, high).map(bar => {
        const isNow = now.includes(bar.pitch);
        const isNext = next.includes(bar.pitch);
        const height = bar.length * LONGEST;
        const middle = bar.natural ? FRONT : BEHIND;
        return (
          <span
            key={bar.pitch}
            class={`projector-tone-bar${used.includes(bar.pitch) ? '' : ' unused'}${isNow ? ' now' : ''}`}
            style={{
              left: `${String(bar.x * 100)}%`,
              width: `${String(bar.width * 100)}%`,
              height: `${String(height)}%`,
              top: `${String(middle - height / 2)}%`,
            }}
          >
            {isNow ? <i class="mallet-head" /> : isNext ? <i class="comes-next" /> : null}
            <b>{toneBarName(bar.pitch).replace(/\d+$/, '')}</b>
          </span>
        );
      })}
    </div>
  );
};
