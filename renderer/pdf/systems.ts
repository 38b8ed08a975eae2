import { toNumber } from '../../core/foundation/fraction.ts';
import type { NameStyle } from '../../core/foundation/noteValue.ts';
import type { Score } from '../../core/score/score.ts';
import { drawScore, type PageSystem, xOfPlace } from '../page/drawScore.ts';
import { scaleOfHeight } from '../page/options.ts';
import { fit } from './fit.ts';
import type { Fonts } from './fonts.ts';
import { INK, type Mark, type PathStep } from './marks.ts';
import type { Block } from './paginate.ts';
import type { PrintOptions } from './paper.ts';
import { readSvg } from './readSvg.ts';

/** A system ready for paper: everything in it, from its top left corner. */
export interface PaperSystem extends Block {
  readonly marks: readonly Mark[];
  /** Elements of its drawing that could not be read; none, or a test fails. */
  readonly unknown: readonly string[];
}

/** How a score is laid out for paper or for a picture. */
export interface PaperLayout extends PrintOptions {
  /** In CSS pixels. */
  readonly width: number;
  readonly names: boolean;
  readonly brackets: boolean;
  readonly nameStyle: NameStyle;
  /** Room added under every stave, in CSS pixels: what fills a page that holds one system. */
  readonly spread?: number;
}

/** The score as the page draws it, system by system, as marks. The notation font must be ready. */
export const paperSystems = (score: Score, fonts: Fonts, layout: PaperLayout): readonly PaperSystem[] => {
  const staveHeight = layout.staveHeight ?? 7;
  const larger = staveHeight / 7;
  const host = document.createElement('div');
  const systems = drawScore(score, host, {
    width: layout.width,
    scale: scaleOfHeight(staveHeight),
    staveHeight,
    under: layout.under,
    nameStyle: layout.nameStyle,
    above: layout.brackets && score.brackets.length > 0 ? 20 * larger : 4,
    below: 2 + (layout.spread ?? 0),
    names: layout.names,
    tempo: true,
  });
  return systems.map((system, i) => {
    const svg = system.element.querySelector('svg');
    const read = svg === null ? { marks: [], unknown: ['no drawing'] } : readSvg(svg, fonts);
    const brackets = layout.brackets ? bracketMarks(score, system, larger, fonts) : [];
    return {
      height: system.height,
      turn: turnAfter(score, system, systems[i + 1]),
      marks: [...read.marks, ...nameMarks(system, fonts), ...brackets],
      unknown: read.unknown,
    };
  });
};

/** Part names, which the page writes beside its drawing: right-aligned in a box of their own. */
const nameMarks = (system: PageSystem, fonts: Fonts): Mark[] =>
  [...system.element.querySelectorAll<HTMLElement>('.part-name')].map(name => {
    const size = Number.parseFloat(name.style.fontSize);
    const text = name.textContent;
    return {
      kind: 'words',
      x: Number.parseFloat(name.style.width) - fonts.width('plain', size, text),
      y: Number.parseFloat(name.style.top) + 0.35 * size,
      text,
      hand: 'plain',
      size,
      fill: INK,
    };
  });

/** What turning the page here costs: nothing where every part rests just before or after, or a letter follows. */
const turnAfter = (score: Score, system: PageSystem, next: PageSystem | undefined): number => {
  if (next === undefined || score.letters.some(l => l.bar === next.first)) return 0;
  const rests = (bar: number, side: 0 | -1): boolean =>
    score.parts.every(part => {
      const found = part.bars[bar];
      return found?.restBars !== undefined || found?.symbols.at(side)?.pitches.length === 0;
    });
  return rests(system.first + system.bars - 1, -1) || rests(next.first, 0) ? 0 : 1;
};

/** Brackets over the staves that name each statement: a hook where it begins, its name, a hook where it ends. */
const bracketMarks = (score: Score, system: PageSystem, larger: number, fonts: Fonts): Mark[] => {
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
        left: (begins ? xOfPlace(system, from) : system.startX) - 8,
        right: ends ? xOfPlace(system, to) - 12 : system.endX,
        y: stave.inkTop - 10 * larger,
      },
    ];
  });
  // The barlines that run through all staves would run through the words.
  const paper = (left: number, right: number, y: number, size: number): Mark => ({
    kind: 'shape',
    width: 0,
    fill: '#ffffff',
    steps: [
      ['M', left, y - 0.62 * size],
      ['L', right, y - 0.62 * size],
      ['L', right, y + 0.62 * size],
      ['L', left, y + 0.62 * size],
      ['Z'],
    ],
  });
  return here.flatMap(({ part, text, begins, ends, left, right, y }) => {
    const next = here.filter(other => other.part === part && other.left > left).map(other => other.left);
    const most = Math.min(system.endX, ...next.map(x => x - 6)) - left - 10;
    const fitted = fit(fonts, 'italic', text, 12 * larger, most, 0.8);
    const textLeft = left + 8;
    const textRight = textLeft + fitted.width + 4;
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
    const after: PathStep[] = [
      ['M', Math.min(textRight, right), y],
      ['L', right, y],
      ...(ends ? [['L', right, y + hook] as const] : []),
    ];
    return [
      paper(textLeft - 2, textRight, y, fitted.size),
      line(before),
      {
        kind: 'words',
        x: textLeft,
        y: y + 0.34 * fitted.size,
        text: fitted.text,
        hand: 'italic',
        size: fitted.size,
        fill: INK,
      },
      ...(textRight < right ? [line(after)] : []),
    ];
  });
};
