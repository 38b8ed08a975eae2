import { Renderer } from 'vexflow/bravura';
import { swingName } from '../../core/exchange/textScore.ts';
import type { Swing } from '../../core/reading/reading.ts';
import { INSTRUMENTS } from '../../core/parts/instruments.ts';
import type { Score } from '../../core/score/score.ts';
import { type DrawnSystem, drawSystem, headWidth, margin, type SystemOptions } from './drawSystem.ts';
import { breakIntoSystems, naturalWidth } from './layout.ts';

export interface PageOptions {
  /** Width to fill, in CSS pixels. */
  readonly width: number;
  /** 1 draws a stave 40 px high. */
  readonly scale: number;
  /** Room over each stave for brackets or a strike line, in CSS pixels. */
  readonly above: number;
  /** Room under each stave for counts and doubt, in CSS pixels. */
  readonly below: number;
  readonly names: boolean;
  readonly tempo: boolean;
}

/** A drawn system and the element that holds it. */
export interface PageSystem extends DrawnSystem {
  readonly element: HTMLElement;
}

/**
 * Draws a score as systems, one element each, into `host` (emptied first). The notation font must
 * be ready. Everything outside this folder works from the positions returned.
 */
export const drawScore = (score: Score, host: HTMLElement, options: PageOptions): readonly PageSystem[] => {
  const s = options.scale;
  const width = options.width / s - 2;
  const firstHead = headWidth(score, true) + margin(score, options.names, true);
  const head = headWidth(score, false) + margin(score, options.names, false);
  const naturals = Array.from({ length: score.barCount }, (_, i) => naturalWidth(score, i));
  const plans = breakIntoSystems(naturals, width, firstHead, head);
  host.replaceChildren();
  return plans.map((plan, index) => {
    const first = index === 0;
    const spread = inkSpread(score, plan.first, plan.widths.length);
    const above = options.above / s + spread.above;
    const staveGap = above + 40 + spread.below + options.below / s;
    const tempo = first && options.tempo ? 26 : 0;
    const systemOptions: SystemOptions = {
      scale: s,
      staveGap,
      topGap: above + tempo,
      names: options.names,
      showTempo: options.tempo,
    };
    const height = (tempo + staveGap * score.parts.length) * s;
    const element = document.createElement('div');
    element.className = 'system';
    host.append(element);
    const renderer = new Renderer(element, Renderer.Backends.SVG);
    renderer.resize(options.width, height);
    const context = renderer.getContext();
    context.scale(s, s);
    const drawn = drawSystem(context, score, plan, systemOptions, height);
    const svg = element.querySelector('svg');
    svg?.setAttribute('aria-hidden', 'true');
    tagNotes(drawn);
    if (first && options.tempo && score.swing !== undefined) writeSwing(score.swing, drawn, element, s);
    if (options.names) writeNames(score, drawn, element, first, s);
    if (!first) writeBarNumber(score, drawn, element);
    return { ...drawn, element };
  });
};

/** Stave units that notes reach above the top line and below the bottom line. */
const inkSpread = (score: Score, first: number, count: number): { above: number; below: number } => {
  let above = 14;
  let below = 14;
  for (const part of score.parts) {
    const middle = part.clef === 'bass' ? 22 : 34; // D3 and B4 in stave steps from C0
    for (const bar of part.bars.slice(first, first + count)) {
      for (const symbol of bar.symbols) {
        for (const { spelled } of symbol.pitches) {
          const step = spelled.octave * 7 + 'CDEFGAB'.indexOf(spelled.step) - middle;
          above = Math.max(
            above,
            step * 5 - 20 + (step < 0 ? 0 : 12),
            step < 0 ? step * 5 + 35 - 20 + 12 : 0,
          );
          below = Math.max(below, -step * 5 - 20 + 12, step >= 0 ? 35 - step * 5 - 20 + 12 : 0);
        }
      }
      if (bar.tuplets.length > 0) {
        above = Math.max(above, 34);
        below = Math.max(below, 34);
      }
    }
  }
  return { above, below };
};

const tagNotes = (system: DrawnSystem): void => {
  for (const symbol of system.symbols) {
    if (symbol.element === undefined) continue;
    symbol.element.dataset['refs'] = symbol.refs.join(' ');
    symbol.element.dataset['part'] = symbol.part;
    if (symbol.tiedFrom) symbol.element.dataset['tied'] = 'yes';
  }
};

const writeNames = (
  score: Score,
  system: DrawnSystem,
  element: HTMLElement,
  first: boolean,
  s: number,
): void => {
  system.staves.forEach((stave, p) => {
    const part = score.parts[p];
    if (part === undefined) return;
    const name = document.createElement('span');
    name.className = 'part-name';
    name.textContent = first ? part.name : part.short;
    name.title = INSTRUMENTS[part.instrument].name;
    name.style.top = `${String((stave.top + stave.bottom) / 2)}px`;
    name.style.fontSize = `${String(Math.max(10.5, 16.5 * s))}px`;
    name.style.width = `${String((margin(score, true, first) - 18) * s)}px`;
    element.append(name);
  });
};

/** Beside the metronome mark: quavers written even are played long and short. */
const writeSwing = (swing: Swing, system: DrawnSystem, element: HTMLElement, s: number): void => {
  const mark = document.createElement('span');
  mark.className = 'swing-mark';
  mark.textContent = `${swingName(swing)}, ${swing.ratio.toFixed(2).replace(/\.?0+$/, '')} : 1`;
  mark.style.left = `${String(system.startX + 86 * s)}px`;
  mark.style.top = `${String(12 * s)}px`;
  mark.style.fontSize = `${String(Math.max(10.5, 14 * s))}px`;
  element.append(mark);
};

const writeBarNumber = (score: Score, system: DrawnSystem, element: HTMLElement): void => {
  const bar = score.parts[0]?.bars[system.first];
  const [stave] = system.staves;
  if (bar === undefined || stave === undefined) return;
  const number = document.createElement('span');
  number.className = 'bar-number';
  number.textContent = String(bar.number);
  number.style.left = `${String(system.startX - headWidth(score, false))}px`;
  number.style.top = `${String(stave.top - 22)}px`;
  element.append(number);
};

/** Where a place is drawn in a system; clamped to its ends. */
export const xOfPlace = (system: DrawnSystem, at: number): number => {
  const { anchors } = system;
  let before = anchors[0];
  for (const anchor of anchors) {
    if (anchor.at > at) {
      if (before === undefined || before.at >= at) return before?.x ?? anchor.x;
      return before.x + ((anchor.x - before.x) * (at - before.at)) / (anchor.at - before.at);
    }
    before = anchor;
  }
  return before?.x ?? system.endX;
};

/** Width a score needs to stand on one line without names, in stave units. */
export const widthOnOneLine = (score: Score): number =>
  headWidth(score, true) +
  margin(score, false, true) +
  Array.from({ length: score.barCount }, (_, i) => naturalWidth(score, i)).reduce((a, b) => a + b, 4);
