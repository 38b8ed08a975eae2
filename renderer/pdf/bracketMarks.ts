import { toNumber } from '../../core/foundation/fraction.ts';
import type { Score } from '../../core/score/score.ts';
import { type PageSystem, xOfPlace } from '../page/drawScore.ts';
import type { Fonts } from './fonts.ts';
import { INK, type Mark, type PathStep } from './marks.ts';
import { SMALLEST, wrap, type Wrapped } from './wrap.ts';

/** Size of a name, and from one of its lines to the next, in CSS pixels on a stave of the usual height. */
const SIZE = 12;
export const LINE = 13;

/** One bracket as far as it lies over a system. In CSS pixels. */
interface Placed {
  readonly part: string;
  readonly name: Wrapped;
  readonly begins: boolean;
  readonly ends: boolean;
  readonly left: number;
  readonly right: number;
  /** The line of the bracket, at its name's last line. */
  readonly y: number;
}

const placedIn = (score: Score, system: PageSystem, larger: number, fonts: Fonts): readonly Placed[] => {
  const here = score.brackets.flatMap(bracket => {
    const stave = system.staves.find(s => s.part === bracket.part);
    const from = toNumber(bracket.from);
    const to = toNumber(bracket.to);
    if (stave === undefined || to <= system.from + 1e-9 || from >= system.to - 1e-9) return [];
    const begins = from >= system.from - 1e-9;
    const ends = to <= system.to + 1e-9;
    return [
      {
        part: bracket.part,
        text: begins ? bracket.text : `(${bracket.text})`,
        begins,
        ends,
        isMostlyBefore: !begins && system.from - from > Math.min(to, system.to) - system.from,
        isMostlyAfter: begins && to - system.to > system.to - from,
        left: (begins ? xOfPlace(system, from) : system.startX) - 8,
        right: ends ? xOfPlace(system, to) - 12 : system.endX,
        y: stave.inkTop - 10 * larger,
      },
    ];
  });
  return here.map(({ part, text, isMostlyBefore, isMostlyAfter, ...one }) => {
    const next = here.filter(other => other.part === part && other.left > one.left).map(other => other.left);
    const most = Math.min(system.endX, ...next.map(x => x - 6)) - one.left - 10;
    const name = wrap(fonts, 'italic', text, SIZE * larger, most);
    // Over its upbeat alone, at the end of a line, a name would be cut short: the next line has it whole. Nor is it said
    // in small print over the lesser piece of a bracket.
    const isSmall = name.size < SMALLEST * SIZE * larger - 1e-9;
    const isElsewhere =
      (one.begins && !one.ends && name.lines.join(' ') !== text) ||
      (isSmall && (isMostlyBefore || isMostlyAfter));
    return { ...one, part, name: isElsewhere ? { ...name, lines: [], width: 0 } : name };
  });
};

/** How many lines the longest name over each stave of a system takes; at least 1. */
export const nameLines = (
  score: Score,
  system: PageSystem,
  larger: number,
  fonts: Fonts,
): readonly number[] => {
  const placed = placedIn(score, system, larger, fonts);
  return system.staves.map(({ part }) =>
    Math.max(1, ...placed.filter(p => p.part === part).map(p => p.name.lines.length)),
  );
};

/**
 * Brackets over the staves that name each statement: a hook where it begins, its name whole, a hook where it ends.
 * Further lines of a name stand over the first.
 */
export const bracketMarks = (score: Score, system: PageSystem, larger: number, fonts: Fonts): Mark[] => {
  // The barlines that run through all staves would run through the words.
  const paper = (left: number, right: number, top: number, bottom: number): Mark => ({
    kind: 'shape',
    width: 0,
    fill: '#ffffff',
    steps: [['M', left, top], ['L', right, top], ['L', right, bottom], ['L', left, bottom], ['Z']],
  });
  return placedIn(score, system, larger, fonts).flatMap(({ name, begins, ends, left, right, y }) => {
    const textLeft = left + 8;
    const textRight = textLeft + name.width + 4;
    const hook = 6 * larger;
    const line = (steps: readonly PathStep[]): Mark => ({
      kind: 'shape',
      steps,
      stroke: INK,
      width: 0.9 * larger,
    });
    const before: PathStep[] = begins
      ? [
          ['M', left, y + hook],
          ['L', left, y],
          ['L', textLeft - 2, y],
        ]
      : [
          ['M', left, y],
          ['L', textLeft - 2, y],
        ];
    const last = name.lines.at(-1) ?? '';
    const lastRight = textLeft + fonts.width('italic', name.size, last) + 4;
    const after: PathStep[] = [
      ['M', Math.min(lastRight, right), y],
      ['L', right, y],
      ...(ends ? [['L', right, y + hook] as const] : []),
    ];
    const step = (LINE * larger * name.size) / (SIZE * larger);
    const top = y - (name.lines.length - 1) * step;
    return [
      ...(name.lines.length === 0
        ? []
        : [paper(textLeft - 2, textRight, top - 0.62 * name.size, y + 0.62 * name.size)]),
      line(before),
      ...name.lines.map((text, i): Mark => ({
        kind: 'words',
        x: textLeft,
        y: top + i * step + 0.34 * name.size,
        text,
        hand: 'italic',
        size: name.size,
        fill: INK,
      })),
      ...(lastRight < right ? [line(after)] : []),
    ];
  });
};
