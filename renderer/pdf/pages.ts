import type { NameStyle } from '../../core/foundation/noteValue.ts';
import type { Score } from '../../core/score/score.ts';
import { fit } from './fit.ts';
import type { Fonts } from './fonts.ts';
import { type Lettering, INK, type Mark, moved } from './marks.ts';
import { paginate } from './paginate.ts';
import { MM, MUSIC_WIDTH, PAPER, type PrintOptions } from './paper.ts';
import { scaled } from './readSvg.ts';
import { type PaperSystem, paperSystems } from './systems.ts';

/** What is written round the music. */
export interface Heading {
  readonly title: string;
  readonly codeName: string;
  readonly className: string;
  /** The part's name, where the pages are for one player. */
  readonly part?: string;
}

/** One sheet of paper: everything on it, in CSS pixels from its top left corner. */
export interface PaperPage {
  readonly marks: readonly Mark[];
  /** Where each system stands. */
  readonly systems: readonly {
    readonly left: number;
    readonly top: number;
    readonly width: number;
    readonly height: number;
  }[];
}

const GAP = 5 * MM;
/** Full pages are spread to the foot, but systems never fall this far apart. */
const WIDEST_GAP = 16 * MM;
const QUIET = '#3d4850';

type Side = 'left' | 'middle' | 'right';
/** How much of a line words may take, so that left and right never meet. */
const SHARE: Readonly<Record<Side, number>> = { left: 0.62, middle: 1, right: 0.36 };

/** A score on A4 pages, ready for any file. The notation font must be ready. */
export const paperPages = (
  score: Score,
  heading: Heading,
  fonts: Fonts,
  options: PrintOptions & { readonly nameStyle: NameStyle },
): readonly PaperPage[] => {
  const larger = Math.min(1.6, (options.staveHeight ?? 7) / 7);
  const write = (text: string, side: Side, y: number, size: number, hand: Lettering, fill = INK): Mark => {
    const most = MUSIC_WIDTH * SHARE[side];
    const fitted = fit(fonts, hand, text, size, most, side === 'middle' ? 0.6 : 0.85);
    const x =
      side === 'left'
        ? PAPER.side
        : side === 'right'
          ? PAPER.width - PAPER.side - fitted.width
          : (PAPER.width - fitted.width) / 2;
    return { kind: 'words', x, y, text: fitted.text, hand, size: fitted.size, fill };
  };
  const top = headOf(heading, larger, write);
  const later = laterHead(heading, larger, write);
  const room = { first: PAPER.bottom - top.end, later: PAPER.bottom - later.end, gap: GAP };
  const many = score.parts.length > 1;
  const laid = (spread: number): readonly PaperSystem[] =>
    fitting(Math.min(room.first, room.later), width =>
      paperSystems(score, fonts, { ...options, width, names: many, brackets: true, spread }),
    );
  // Nobody plays from a score of several parts: its pages are filled, wherever they end.
  const paged = (of: readonly PaperSystem[]): readonly (readonly number[])[] =>
    paginate(many ? of.map(system => ({ ...system, turn: 0 })) : of, room);
  const close = laid(0);
  const spread = (most: number): number =>
    many ? spreadFor(close, paged(close), most) / score.parts.length : 0;
  const [onFirst, onLater] = [spread(room.first), spread(room.later)];
  // The first page has a heading; its system is alone there too.
  const wide = onLater === 0 ? close : [...laid(onFirst).slice(0, 1), ...laid(onLater).slice(1)];
  const fits = wide.length === close.length && paged(wide).length <= paged(close).length;
  const systems = fits ? wide : close;
  const pages = paged(systems);
  return pages.map((blocks, p) => {
    const own = blocks.flatMap(i => systems[i] ?? []);
    const head = p === 0 ? top : later;
    const last = p === pages.length - 1;
    const used = own.reduce((so, system) => so + system.height, 0);
    const spare = (PAPER.bottom - head.end - used) / Math.max(1, own.length - 1);
    const gap = last ? GAP : Math.min(WIDEST_GAP, spare);
    let y = head.end;
    const systemsHere = own.map(({ height }) => {
      const top = y;
      y += height + gap;
      return { left: PAPER.side, top, width: MUSIC_WIDTH, height };
    });
    const music = own.flatMap((system, i) =>
      system.marks.map(mark => moved(mark, PAPER.side, systemsHere[i]?.top ?? 0)),
    );
    const foot = [
      write([heading.title, ...composer(heading)].join(', '), 'left', PAPER.foot, 11, 'plain', QUIET),
      write(`page ${String(p + 1)} of ${String(pages.length)}`, 'right', PAPER.foot, 11, 'plain', QUIET),
    ];
    return { marks: [...head.marks, ...music, ...foot], systems: systemsHere };
  });
};

interface Head {
  readonly marks: readonly Mark[];
  /** Where the music begins. */
  readonly end: number;
}

/** The composer line; none where no code name was given. */
const composer = ({ codeName }: Pick<Heading, 'codeName'>): readonly string[] =>
  codeName === '' ? [] : [`composed by ${codeName}`];

/** Title, composer, class and, in a part, whose part it is. */
const headOf = (
  { title, codeName, className, part }: Heading,
  larger: number,
  write: (text: string, side: Side, y: number, size: number, hand: Lettering, fill?: string) => Mark,
): Head => {
  // How it sounds stands under the name, so that large print has room for both.
  const [name = '', sounds] = (part ?? '').split(/ \((?=sounds )|\)$/);
  const size = 26 * Math.sqrt(larger);
  const line = PAPER.top + size;
  const below = line + 26 * larger;
  return {
    marks: [
      write(title, 'middle', line, size, 'bold'),
      ...(part === undefined ? [] : [write(name, 'left', below, 18 * larger, 'bold')]),
      ...(sounds === undefined || sounds === ''
        ? []
        : [write(sounds, 'left', below + 18 * larger, 12 * larger, 'plain')]),
      ...composer({ codeName }).map(line => write(line, 'right', below, 14 * larger, 'plain')),
      ...(className === ''
        ? []
        : [write(`class ${className}`, 'right', below + 18 * larger, 12 * larger, 'plain', QUIET)]),
    ],
    end: below + (className === '' && sounds === undefined ? 12 : 26) * larger + 2 * MM,
  };
};

/** On later pages a part still says whose it is. */
const laterHead = (
  { title, part }: Heading,
  larger: number,
  write: (text: string, side: Side, y: number, size: number, hand: Lettering, fill?: string) => Mark,
): Head => {
  const line = PAPER.top + 12 * larger;
  if (part === undefined) return { marks: [], end: PAPER.top };
  return {
    marks: [
      write(part, 'left', line, 14 * larger, 'bold'),
      write(title, 'right', line, 12 * larger, 'plain', QUIET),
    ],
    end: line + 4 * MM,
  };
};

/** Staves of a system never come further apart than by this more. */
const MOST_SPREAD = 60 * MM;
/** How full a page has to be that no more is done: about as full as pages of several systems are. */
const FULL = 0.85;

/**
 * By how much systems may grow where each has a page of its own and leaves much of it empty (large print);
 * 0 where pages hold several.
 */
const spreadFor = (
  systems: readonly PaperSystem[],
  pages: readonly (readonly number[])[],
  most: number,
): number => {
  const tallest = Math.max(0, ...systems.map(s => s.height));
  const alone = pages.length > 1 && pages.slice(0, -1).every(page => page.length === 1);
  return alone && tallest < FULL * most ? Math.min(MOST_SPREAD, 0.97 * most - tallest) : 0;
};

/** A system that is higher than a page (four parts in the largest print) makes everything smaller. */
const fitting = (
  most: number,
  systemsAt: (width: number) => readonly PaperSystem[],
): readonly PaperSystem[] => {
  const tallest = (systems: readonly PaperSystem[]): number => Math.max(0, ...systems.map(s => s.height));
  let systems = systemsAt(MUSIC_WIDTH);
  let scale = 1;
  for (let tries = 0; tries < 4 && tallest(systems) * scale > most; tries++) {
    scale = Math.min(scale * 0.98, most / tallest(systems));
    systems = systemsAt(MUSIC_WIDTH / scale);
  }
  if (scale === 1) return systems;
  return systems.map(system => ({
    ...system,
    height: system.height * scale,
    marks: system.marks.map(mark => scaled(mark, scale)),
  }));
};
