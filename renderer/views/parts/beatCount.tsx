import type { ComponentChildren } from 'preact';
import { toNumber } from '../../../core/foundation/fraction.ts';
import { barLength, tactus } from '../../../core/foundation/metre.ts';
import { metreAt } from '../../../core/score/metreAt.ts';
import type { Score } from '../../../core/score/score.ts';
import { useApp } from '../../desk/appContext.ts';

/** The beats of a bar as figures: they count in, then go on counting; the beat that is now is another shape. */
export const BeatCount = (props: { score: Score; class: string }): ComponentChildren => {
  const { desk } = useApp();
  const { score } = props;
  const at = desk.cursor.value;
  const startsAt = desk.hearing.value?.startsAt ?? -Infinity;
  const isCountIn = at !== undefined && at < startsAt;
  // What is counted in is counted in the metre of the bar it leads to; what still rings after the last barline
  // belongs to the last bar.
  const here = score.parts[0]?.bars
    .filter((b, i) => i === 0 || toNumber(b.start) <= (isCountIn ? startsAt : (at ?? 0)) + 1e-6)
    .at(-1);
  const metre = metreAt(score, here?.index ?? 0);
  const barline = here === undefined || here.start.n < 0 ? 0 : toNumber(here.start);
  const bar = toNumber(barLength(metre));
  const step = toNumber(tactus(metre));
  const inBar = at === undefined ? undefined : at - barline - Math.floor((at - barline) / bar + 1e-6) * bar;
  const now = inBar === undefined ? -1 : Math.floor(inBar / step + 1e-6);
  const number = here?.number ?? 0;
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
