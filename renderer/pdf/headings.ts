import { type Fonts } from './fonts.ts';
import { fit } from './fit.ts';
import { INK, type Lettering, type Mark } from './marks.ts';
import { type Leaf, MM, widthOfMusic } from './paper.ts';

/** What is written round the music. */
export interface Heading {
  readonly title: string;
  readonly codeName: string;
  readonly className: string;
  /** The part's name, where the pages are for one player. */
  readonly part?: string;
}

const QUIET = '#3d4850';

type Side = 'left' | 'middle' | 'right';
/** How much of a line words may take, so that left and right never meet. */
const SHARE: Readonly<Record<Side, number>> = { left: 0.62, middle: 1, right: 0.36 };

type Write = (text: string, side: Side, y: number, size: number, hand: Lettering, fill?: string) => Mark;

const writer =
  (leaf: Leaf, fonts: Fonts): Write =>
  (text, side, y, size, hand, fill = INK) => {
    const most = widthOfMusic(leaf) * SHARE[side];
    const fitted = fit(fonts, hand, text, size, most, side === 'middle' ? 0.6 : 0.85);
    const x =
      side === 'left'
        ? leaf.side
        : side === 'right'
          ? leaf.width - leaf.side - fitted.width
          : (leaf.width - fitted.width) / 2;
    return { kind: 'words', x, y, text: fitted.text, hand, size: fitted.size, fill };
  };

interface Head {
  readonly marks: readonly Mark[];
  /** Where the music begins. */
  readonly end: number;
}

/** Heads of the first page and of later ones, and what stands at the foot of each. */
export interface Headings {
  readonly first: Head;
  readonly later: Head;
  readonly foot: (page: number, pages: number) => readonly Mark[];
}

/** What stands round the music of a piece. @param larger how much larger the print is than usual */
export const headingsOn = (leaf: Leaf, fonts: Fonts, heading: Heading, larger: number): Headings => {
  const write = writer(leaf, fonts);
  const first = leaf.width > leaf.height ? lowHead : headOf;
  return {
    first: first(leaf, heading, larger, write),
    later: laterHead(leaf, heading, larger, write),
    foot: (page, pages) => [
      write([heading.title, ...composer(heading)].join(', '), 'left', leaf.foot, 11, 'plain', QUIET),
      write(`page ${String(page + 1)} of ${String(pages)}`, 'right', leaf.foot, 11, 'plain', QUIET),
    ],
  };
};

/** The composer line; none where no code name was given. */
const composer = ({ codeName }: Pick<Heading, 'codeName'>): readonly string[] =>
  codeName === '' ? [] : [`composed by ${codeName}`];

/** Title, composer, class and, in a part, whose part it is. */
const headOf = (
  { top }: Leaf,
  { title, codeName, className, part }: Heading,
  larger: number,
  write: Write,
): Head => {
  // How it sounds stands under the name, so that large print has room for both.
  const [name = '', sounds] = (part ?? '').split(/ \((?=sounds )|\)$/);
  const size = 26 * Math.sqrt(larger);
  const line = top + size;
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

/** On a leaf on its side, which is low, the title stands beside the composer. */
const lowHead = (
  { top }: Leaf,
  { title, codeName, className }: Heading,
  larger: number,
  write: Write,
): Head => {
  const size = 22 * Math.sqrt(larger);
  const line = top + 0.8 * size;
  const by = [...composer({ codeName }), ...(className === '' ? [] : [`class ${className}`])].join(', ');
  return {
    marks: [
      write(title, 'left', line, size, 'bold'),
      ...(by === '' ? [] : [write(by, 'right', line, 11 * larger, 'plain')]),
    ],
    end: line + 3 * MM,
  };
};

/** On later pages a part still says whose it is. */
const laterHead = ({ top }: Leaf, { title, part }: Heading, larger: number, write: Write): Head => {
  const line = top + 12 * larger;
  if (part === undefined) return { marks: [], end: top };
  return {
    marks: [
      write(part, 'left', line, 14 * larger, 'bold'),
      write(title, 'right', line, 12 * larger, 'plain', QUIET),
    ],
    end: line + 4 * MM,
  };
};
