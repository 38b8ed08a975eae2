// The gallery itself, bundled into gallery.html; tests drive it through `gallery`.
import { musicXml } from '../../core/exchange/musicXml.ts';
import { withLongRests } from '../../core/score/longRests.ts';
import type { Score } from '../../core/score/score.ts';
import { drawScore } from '../../renderer/page/drawScore.ts';
import { notationFontReady } from '../../renderer/page/fonts.ts';
import type { PageOptions } from '../../renderer/page/options.ts';
import { pieceOfFour, others } from '../exchange/pieces.ts';
import { inkOfPage } from './ink.ts';
import { optionsOf, scoreOf, type Situation } from './situation.ts';
import { CHAPTERS, SITUATIONS } from './situations/index.ts';

const element = <K extends keyof HTMLElementTagNameMap>(
  name: K,
  content: string,
  className = '',
): HTMLElementTagNameMap[K] => {
  const made = document.createElement(name);
  made.textContent = content;
  if (className !== '') made.className = className;
  return made;
};

const drawing = (score: Score, options: PageOptions): HTMLElement => {
  const host = element('div', '', 'drawing');
  host.style.width = `${String(options.width)}px`;
  drawScore(score, host, options);
  return host;
};

const drawnScore = (s: Situation): Score => (s.longRests === true ? withLongRests(scoreOf(s)) : scoreOf(s));

const figureOf = (s: Situation): HTMLElement => {
  const figure = element('figure', '');
  figure.id = s.id;
  const caption = element('figcaption', '');
  caption.append(
    element('strong', `${s.metre}: ${s.name}. `),
    element('span', `${s.rule} `),
    element('span', `(${s.source}) `, 'source'),
    element('code', s.written),
  );
  figure.append(drawing(drawnScore(s), optionsOf(s)), caption);
  return figure;
};

const ready = async (): Promise<void> => {
  await notationFontReady();
  await Promise.all(
    ['16px', 'bold 16px', 'italic 16px'].map(f => document.fonts.load(`${f} 'Atkinson Hyperlegible'`)),
  );
};

/** Draws the whole gallery; how many situations. */
const show = async (): Promise<number> => {
  await ready();
  const main = document.querySelector('main');
  main?.replaceChildren(
    element('h1', 'The gallery: what the page must get right'),
    ...CHAPTERS.flatMap(c => [element('h2', c.title), ...c.situations.map(figureOf)]),
  );
  return SITUATIONS.length;
};

/** Whole scores that are drawn beside the situations when ink is checked. */
const wholeScores = (): readonly (readonly [string, Score])[] => [
  ['four parts', pieceOfFour()],
  ...others().map((score, i) => [`another ${String(i + 1)}`, score] as const),
];

const names = (): readonly string[] => [...SITUATIONS.map(s => s.id), ...wholeScores().map(([name]) => name)];

/** Draws one situation or score alone, other options than its own on top, and tells what touches. */
const touching = async (name: string, more: Partial<PageOptions>): Promise<readonly string[]> => {
  await ready();
  const situation = SITUATIONS.find(s => s.id === name);
  const score =
    situation === undefined ? wholeScores().find(([n]) => n === name)?.[1] : drawnScore(situation);
  if (score === undefined) return [`no such score: ${name}`];
  const own =
    situation === undefined
      ? { width: 700, scale: 1, above: 20, below: 0, names: true, tempo: true }
      : optionsOf(situation);
  const host = drawing(score, { ...own, ...more });
  host.style.padding = '0';
  document.querySelector('main')?.replaceChildren(host);
  return inkOfPage(host);
};

/** What is found when one head is laid on the next: a check of the check. */
const planted = async (name: string): Promise<readonly string[]> => {
  await touching(name, {});
  const host = document.querySelector<HTMLElement>('.drawing');
  const [one, two] = host?.querySelectorAll('.vf-notehead text') ?? [];
  if (host === null || one === undefined || two === undefined) return [];
  one.setAttribute('x', two.getAttribute('x') ?? '');
  one.setAttribute('y', two.getAttribute('y') ?? '');
  return inkOfPage(host);
};

const gallery = { planted, show, names, touching, musicXml };
export type Gallery = typeof gallery;
Object.assign(globalThis, { gallery });
void show();
