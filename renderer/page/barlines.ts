import { isDoubleAfter } from '../../core/score/barline.ts';
import type { Score } from '../../core/score/score.ts';
import type { SystemPlan } from './layout.ts';
import { bar, SANS, svg, text } from './svg.ts';

/** Where the lines of a system stand, in stave units. */
export interface SystemLines {
  readonly left: number;
  /** Right edge of every bar. */
  readonly ends: readonly number[];
  /** Top line of every stave. */
  readonly tops: readonly number[];
  readonly weight: number;
}

const THIN = 1.3;
const THICK = 4.5;
/** From the one line of a double barline to the other. */
const DOUBLE = 5;

const dots = (x: number, tops: readonly number[]): SVGElement[] =>
  tops.flatMap(top => [15, 25].map(y => svg('circle', { cx: x, cy: top + y, r: 2, stroke: 'none' })));

/** Stave lines, barlines, repeat bars, the line and bracket at the left. */
export const drawLines = (
  score: Score,
  plan: SystemPlan,
  lines: SystemLines,
  head: number,
): readonly SVGElement[] => {
  const { left, ends, tops, weight } = lines;
  const out: SVGElement[] = [];
  const right = (ends.at(-1) ?? left) + plan.courtesy;
  const staveLine = 1 * weight;
  const staves = svg('g', { class: 'stave-lines' });
  tops.forEach((top, p) => {
    const own = score.parts[p]?.lines === 1 ? [2] : [0, 1, 2, 3, 4];
    for (const i of own) staves.append(bar(left, top + i * 10 - staveLine / 2, right - left, staveLine));
  });
  out.push(staves);
  const first = tops[0] ?? 0;
  const bottom = (tops.at(-1) ?? 0) + 40;
  const line = (x: number, width: number): SVGElement =>
    bar(x, first - staveLine / 2, width, bottom - first + staveLine);
  const group = svg('g', { class: 'barlines' });
  const many = tops.length > 1;
  if (many) {
    group.append(line(left, THIN * weight));
    group.append(bar(left - 7, first - 4, THICK, bottom - first + 8));
    group.append(bar(left - 7, first - 5, 10, 1.6), bar(left - 7, bottom + 3.4, 10, 1.6));
  }
  ends.forEach((x, i) => {
    const index = plan.first + i;
    const closes = score.repeats?.find(r => r.bar + r.bars - 1 === index);
    const opensNext = score.repeats?.some(r => r.bar === index + 1) === true && i < ends.length - 1;
    const last = index === score.barCount - 1;
    const thin = THIN * weight;
    const thick = THICK * weight;
    if (closes !== undefined) {
      group.append(
        line(x - thick, thick),
        line(x - thick - 3.5 - thin, thin),
        ...dots(x - thick - 9.5, tops),
      );
      // Where the endings are told apart, they tell how often.
      if (closes.times > 2 && closes.endings === undefined) {
        group.append(
          text(x, first - 8, `×${String(closes.times)}`, {
            'font-family': SANS,
            'font-size': 15,
            'font-weight': 'bold',
            'text-anchor': 'end',
            class: 'repeat-times',
          }),
        );
      }
    } else if (last && score.unfinished === true) return;
    else if (last) group.append(line(x - thick, thick), line(x - thick - 3.5 - thin, thin));
    else if (isDoubleAfter(score, index)) group.append(line(x - thin, thin), line(x - thin - DOUBLE, thin));
    else if (!opensNext) group.append(line(x - thin, thin));
    // A new signature stands between its double barline and the sign that opens a repeat.
    if (opensNext) group.append(...opening(x + (plan.bars[i + 1]?.signs ?? 0), thin, thick, line, tops));
  });
  if (
    score.repeats?.some(r => r.bar === plan.first) === true &&
    (plan.first > 0 || (score.repeats[0]?.bar ?? 1) === 0)
  ) {
    group.append(...opening(left + head + 7, THIN * weight, THICK * weight, line, tops));
  }
  out.push(group);
  return out;
};

const opening = (
  x: number,
  thin: number,
  thick: number,
  line: (x: number, width: number) => SVGElement,
  tops: readonly number[],
): SVGElement[] => [line(x, thick), line(x + thick + 3.5, thin), ...dots(x + thick + 3.5 + thin + 5, tops)];
