import type { Sliced } from '../../core/foundation/sliced.ts';
import type { BarIndex } from '../../core/foundation/units.ts';
import type { Score } from '../../core/score/score.ts';
import { endingRoom } from './endingMarks.ts';
import { headWidth, margin } from './frame.ts';
import { headLineHeight, letterHeight, startsWithLetter } from './headLine.ts';
import { headSignsAbove, keySignsAbove } from './keySigns.ts';
import { breakIntoSystems, tightest } from './layout.ts';
import { type PageOptions, scaleOf, signSize } from './options.ts';
import { type BarColumns, columnsOf } from './spacing.ts';
import type { SystemFrame } from './system.ts';
import { LEAST_ABOVE, staveRoom } from './vertical.ts';

/** The natural stretch of bars that may stand close together. */
const CLOSE = 0.95;

/**
 * Breaks bars into systems; where staves stand under each other in a system is worked out when it is asked for. A
 * slice is a bar. Pure but for the width of the clef.
 */
export function* framesOf(
  score: Score,
  options: PageOptions,
): Sliced<{ frames: readonly (() => SystemFrame)[]; scale: number }> {
  const under = options.under ?? [];
  const columns: BarColumns[] = [];
  for (let bar = 0; bar < score.barCount; bar++) {
    columns.push(columnsOf(score, bar, under));
    yield undefined;
  }
  const margins = { first: margin(score, options.names, true), later: margin(score, options.names, false) };
  const headOf = (bar: BarIndex): number =>
    (bar === 0 ? margins.first : margins.later) + headWidth(score, bar);
  const least = Math.max(...columns.map((_, bar) => headOf(bar))) + tightest(columns) + 3;
  const nameRoom = options.nameRoom ?? 0;
  // A bar that cannot be pressed into the line makes the whole page smaller instead of leaving it.
  const scale = Math.min(scaleOf(options), (options.width - nameRoom) / least);
  const lefts = {
    first: margins.first + nameRoom / scale,
    later: margins.later + nameRoom / scale,
  };
  const width = options.width / scale - 2;
  const plans = breakIntoSystems(
    columns,
    width,
    bar => headOf(bar) + nameRoom / scale,
    options.close === true ? CLOSE : 1,
    new Set(options.close === true ? score.letters.map(l => l.bar) : []),
  );
  const above = options.above / scale;
  const below = options.below / scale;
  const signs = signSize(options, scale);
  const besideClef = options.besideClef === true;
  const frames = plans.map((planned, index) => (): SystemFrame => {
    const plan = planned();
    const first = index === 0;
    const count = plan.bars.length;
    const rooms = score.parts
      .map(part =>
        staveRoom(part, plan.first, count, under, keySignsAbove(score, part.clef, plan.first, count)),
      )
      .map(room => (besideClef ? { ...room, above: room.overNotes } : room));
    const besideLetter = { tempo: options.tempo, signs, letterFirst: true };
    // Where a line of marks is needed anyway, a first letter stands in it.
    const letterFirst =
      besideClef &&
      startsWithLetter(score, plan.first) &&
      headLineHeight(score, plan.first, count, besideLetter) === 0;
    const line = headLineHeight(score, plan.first, count, { ...besideLetter, letterFirst });
    const endings = endingRoom(score, plan.first, count);
    const tops: number[] = [];
    let y = line + endings;
    rooms.forEach((room, p) => {
      // Over the first stave stand the bar number and how often a repeat is played.
      const wanted = p > 0 ? 0 : first ? (showsTimes(score, plan.first, count) ? 26 : 0) : 34;
      const letter = p === 0 && letterFirst ? letterHeight(signs) + LEAST_ABOVE : 0;
      const signature = headSignsAbove(score, score.parts[p]?.clef ?? 'treble', plan.first);
      const over = above + (options.roomOver?.(index, p) ?? 0) / scale;
      y += Math.max(over + room.above, wanted, letter, LEAST_ABOVE, signature);
      tops.push(y);
      y += 40 + room.below + below;
    });
    return {
      plan,
      first,
      left: first ? lefts.first : lefts.later,
      head: headWidth(score, plan.first),
      tops,
      rooms,
      height: y,
      headLine: line > 0 ? line - 8 * signs : undefined,
      startLetter: letterFirst ? (tops[0] ?? 0) - LEAST_ABOVE - letterHeight(signs) / 2 : undefined,
      endingLine: endings > 0 ? line + 3 : undefined,
    };
  });
  return { frames, scale };
}

const showsTimes = (score: Score, first: number, count: number): boolean =>
  score.repeats?.some(
    r => r.times > 2 && r.endings === undefined && r.bar + r.bars > first && r.bar + r.bars <= first + count,
  ) === true;
