import type { ComponentChildren } from 'preact';
import { toNumber } from '../../../core/foundation/fraction.ts';
import { barLength, tactus } from '../../../core/foundation/metre.ts';
import type { Score } from '../../../core/score/score.ts';
import { useApp } from '../../desk/appContext.ts';

/** The beats of a bar as figures: they count in, then go on counting; the beat that is now is another shape. */
export const BeatCount = (props: { score: Score; class: string }): ComponentChildren => {
  const { desk } = useApp();
  const { metre } = props.score;
  const bar = toNumber(barLength(metre));
  const step = toNumber(tactus(metre));
  const at = desk.cursor.value;
  const inBar = at === undefined ? undefined : at - Math.floor(at / bar + 1e-6) * bar;
  const now = inBar === undefined ? -1 : Math.floor(inBar / step + 1e-6);
  const last = props.score.parts[0]?.bars.at(-1)?.number ?? 1;
  // What still rings after the last barline belongs to the last bar.
  const number = at === undefined ? 0 : Math.min(Math.floor(at / bar + 1e-6) + 1, last);
  const isCountIn = at !== undefined && at < (desk.hearing.value?.startsAt ?? -Infinity);
  return (
    <span class={props.class} aria-hidden="true">
      {Array.from({ length: Math.round(bar / step) }, (_, i) => (
        <span key={i} class={`projector-beat${i === now ? ' now' : ''}`}>
          <b>{i + 1}</b>
        </span>
      ))}
      <span class="projector-bar">
        {at === undefined ? '' : isCountIn ? 'counting in' : `bar ${String(number)}`}
      </span>
    </span>
  );
};
