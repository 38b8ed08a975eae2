import type { NameStyle } from '../../core/foundation/noteValue.ts';
import type { Score } from '../../core/score/score.ts';
import { scaleOfHeight } from '../page/options.ts';
import { layOutSheet, type PageSystem, type Sheet } from '../page/sheet.ts';
import { bracketMarks, LINE, nameLines } from './bracketMarks.ts';
import type { Fonts } from './fonts.ts';
import { INK, type Mark } from './marks.ts';
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
}

/** Systems laid out for paper, and not drawn yet. */
export interface PlannedSystems {
  readonly blocks: readonly Block[];
  /** Draws them all, each with so much more room between its staves, in CSS pixels. The host of the drawing is gone then. */
  readonly draw: (spread?: (system: number) => number) => readonly PaperSystem[];
}

/** The score as the page has it, broken into systems. The notation font must be ready. */
export const planSystems = (score: Score, fonts: Fonts, layout: PaperLayout): PlannedSystems => {
  const staveHeight = layout.staveHeight ?? 7;
  const larger = staveHeight / 7;
  const named = layout.brackets && score.brackets.length > 0;
  const sheetWith = (roomOver?: (system: number, stave: number) => number): Sheet =>
    layOutSheet(score, document.createElement('div'), {
      width: layout.width,
      scale: scaleOfHeight(staveHeight),
      staveHeight,
      under: layout.under,
      nameStyle: layout.nameStyle,
      above: named ? 20 * larger : 4,
      below: 2,
      names: layout.names,
      tempo: true,
      roomOver,
    });
  const once = sheetWith();
  // A name that takes several lines takes room over its stave; where bars stand does not depend on it.
  const lines = named ? once.systems.map(system => nameLines(score, system, larger, fonts)) : [];
  const forNames = (system: number, stave: number): number =>
    LINE * larger * ((lines[system]?.[stave] ?? 1) - 1);
  const { systems } = lines.flat().some(count => count > 1) ? sheetWith(forNames) : once;
  return {
    blocks: systems.map((system, i) => ({
      height: system.height,
      turn: turnAfter(score, system, systems[i + 1]),
    })),
    draw: (spread = () => 0) => {
      const sheet = sheetWith((system, stave) => forNames(system, stave) + (stave > 0 ? spread(system) : 0));
      return sheet.draw(sheet.systems.map((_, i) => i)).systems.map((system, i) => {
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
    },
  };
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
