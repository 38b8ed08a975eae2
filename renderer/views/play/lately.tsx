import type { ComponentChildren } from 'preact';
import { inputNow } from '../../desk/acts/striking.ts';
import { useApp } from '../../desk/appContext.ts';
import type { HeardStrike, Phrase } from '../../../core/take/memory.ts';
import { RememberedWords } from './roomEar.tsx';
import { useCaught } from './useCaught.ts';
import { useNow } from './useNow.ts';

const SPAN = 30;
const HEIGHT = 92;

const nameOf = (phrases: readonly Phrase[], chosen: boolean): string => {
  const which = chosen ? 'the chosen' : 'your last';
  return phrases.length > 1 ? `${which} ${String(phrases.length)} phrases` : `${which} phrase`;
};

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** The last half minute as strokes on a line, with what one catch would keep bracketed. */
export const Lately = (): ComponentChildren => {
  const { desk } = useApp();
  const now = useNow(250);
  const strikes = desk.memory.value.strikes;
  const phrases = useCaught(now);
  const from = phrases[0]?.from;
  const to = phrases.at(-1)?.to;
  const x = (at: number): number => 1000 * (1 - Math.min(SPAN, Math.max(0, now - at)) / SPAN);
  const shown = strikes.filter(s => s.at > now - SPAN);
  // One path, not an element for each: there may be hundreds, and they move four times a second.
  const strokesOf = (some: readonly HeardStrike[]): string =>
    some
      .map(s => `M${x(s.at).toFixed(1)} ${String(HEIGHT - 4)}v${(-12 - (s.velocity / 127) * 44).toFixed(1)}`)
      .join('');
  const count = phrases.reduce((so, p) => so + p.strikes.length, 0);
  const inside = (at: number): boolean => from !== undefined && to !== undefined && at >= from && at <= to;
  const left = from === undefined ? 0 : x(from);
  const right = to === undefined ? 0 : x(to);
  return (
    <div class="lately">
      <div class="lately-heads">
        <span class="quiet">the last half minute, up to now</span>
        {count > 0 && to !== undefined && to > now - SPAN ? (
          <span
            class="phrase-name"
            style={{ left: `clamp(5.5rem, ${String((left + right) / 20)}%, 100% - 5.5rem)` }}
          >
            {nameOf(phrases, desk.chosen.value !== undefined)}
          </span>
        ) : null}
      </div>
      <svg viewBox={`0 0 1000 ${String(HEIGHT)}`} preserveAspectRatio="none" aria-hidden="true">
        <line class="lately-line" x1="0" x2="1000" y1={HEIGHT - 4} y2={HEIGHT - 4} />
        <path class="stroke" d={strokesOf(shown.filter(s => !inside(s.at)))} />
        <path class="stroke in" d={strokesOf(shown.filter(s => inside(s.at)))} />
        {count > 0 && right > 0 ? (
          <path class="phrase" d={`M ${String(left - 6)} 18 v -10 H ${String(right + 6)} v 10`} />
        ) : null}
      </svg>
    </div>
  );
};

/** What one press would keep, in words. */
export const CatchWords = (): ComponentChildren => {
  const { desk } = useApp();
  const phrases = useCaught(inputNow());
  const count = phrases.reduce((so, p) => so + p.strikes.length, 0);
  const first = phrases[0];
  const last = phrases.at(-1);
  if (first === undefined || last === undefined) {
    return (
      <span class="catch-words quiet">
        Strike some bars. <RememberedWords />
      </span>
    );
  }
  const seconds = Math.max(1, Math.round(last.to - first.from));
  return (
    <span class="catch-words quiet">
      {capital(nameOf(phrases, desk.chosen.value !== undefined))}: {count}{' '}
      {count === 1 ? 'strike' : 'strikes'}, {seconds} {seconds === 1 ? 'second' : 'seconds'}.{' '}
      <RememberedWords />
    </span>
  );
};
