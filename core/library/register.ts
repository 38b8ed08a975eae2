import type { Piece } from '../piece/piece.ts';
import { type ClassList, sameName } from './classList.ts';
import { factsOf, type PieceFacts } from './facts.ts';
import { askedWords, factsHaveWords, hasWords } from './find.ts';
import type { RegisterEntry } from './library.ts';

/** How far a pupil's work is; 'rivals' are two newest versions that wait to be settled. */
export type RowState = 'nothing' | 'draft' | 'kept' | 'rivals' | 'away';

/** One line of the register: a piece, or a pupil who has nothing yet. */
export interface RegisterRow {
  readonly id: string;
  /** Empty for what is not yet given. */
  readonly codeName: string;
  readonly className: string;
  readonly state: RowState;
  /** Undefined for who has nothing yet. */
  readonly facts: PieceFacts | undefined;
  /** What is newer here than in the library; the library has the others. */
  readonly piece: Piece | undefined;
  /** As the library has it; undefined for what is only here so far. */
  readonly entry: RegisterEntry | undefined;
  /** Whether it lies on the desk. */
  readonly isOpen: boolean;
  /** When it was last kept or saved, ISO 8601; empty where that was a moment ago. */
  readonly at: string;
}

/** What the register is made from. */
export interface RegisterParts {
  readonly entries: readonly RegisterEntry[];
  readonly classes: readonly ClassList[];
  /** What lies on the desk, and whether the library has it as it is. */
  readonly open: { readonly piece: Piece; readonly isSaved: boolean } | undefined;
  /** Drafts on their way into the library. */
  readonly waiting: readonly Piece[];
}

const stateOf = (entry: RegisterEntry): RowState =>
  entry.away ? 'away' : entry.rivals.length > 0 ? 'rivals' : entry.draft ? 'draft' : 'kept';

const draftRow = (piece: Piece, entry: RegisterEntry | undefined, isOpen: boolean): RegisterRow => ({
  id: piece.id,
  codeName: piece.codeName,
  className: piece.className,
  state: entry !== undefined && entry.rivals.length > 0 ? 'rivals' : 'draft',
  facts: factsOf(piece),
  piece,
  entry,
  isOpen,
  at: '',
});

/**
 * The lines of the register: every piece as it now is, here or in the library, and everybody who has
 * nothing yet.
 * @example
 * const list = { id: 'class-1', name: '8K', pupils: ['Otter'], groups: [] };
 * registerRows({ entries: [], classes: [list], open: undefined, waiting: [] }).map(row => row.state) // => ['nothing']
 */
export const registerRows = ({ entries, classes, open, waiting }: RegisterParts): readonly RegisterRow[] => {
  const newer = new Map(waiting.map(piece => [piece.id, { piece, isOpen: false }]));
  if (open !== undefined && !open.isSaved) newer.set(open.piece.id, { piece: open.piece, isOpen: true });
  const known = new Set(entries.map(entry => entry.id));
  const rows: RegisterRow[] = entries.map(entry => {
    const here = newer.get(entry.id);
    const isOpen = open?.piece.id === entry.id;
    if (here !== undefined) return draftRow(here.piece, entry, isOpen);
    const { id, facts, savedAt: at } = entry;
    const { codeName, className } = facts;
    return { id, codeName, className, state: stateOf(entry), facts, piece: undefined, entry, isOpen, at };
  });
  for (const { piece, isOpen } of newer.values())
    if (!known.has(piece.id)) rows.push(draftRow(piece, undefined, isOpen));
  const have = new Set(rows.filter(row => row.state !== 'away').flatMap(row => pupilsOf(row, classes)));
  for (const { id, name, pupils } of classes) {
    for (const codeName of pupils) {
      if (have.has(keyOf(name, codeName))) continue;
      const nothing = {
        state: 'nothing',
        facts: undefined,
        piece: undefined,
        entry: undefined,
        isOpen: false,
        at: '',
      } as const;
      rows.push({ id: `${id} ${codeName}`, codeName, className: name, ...nothing });
    }
  }
  return rows;
};

const keyOf = (className: string, codeName: string): string => `${className}\n${sameName(codeName)}`;

/** Everybody whose a piece is: its pupil, or all of the group. */
const pupilsOf = (
  row: Pick<RegisterRow, 'codeName' | 'className'>,
  classes: readonly ClassList[],
): readonly string[] => {
  const group = classes
    .find(list => list.name === row.className)
    ?.groups.find(one => one.name === row.codeName);
  return [row.codeName, ...(group?.pupils ?? [])].map(name => keyOf(row.className, name));
};

/**
 * How many of these classes' pupils have kept a version of something, alone or in a group.
 * @example
 * const list = { id: 'class-1', name: '8K', pupils: ['Otter', 'Heron'], groups: [] };
 * keptCount([], [list]) // => { kept: 0, of: 2 }
 */
export const keptCount = (
  rows: readonly RegisterRow[],
  classes: readonly ClassList[],
): { readonly kept: number; readonly of: number } => {
  const have = new Set(
    rows
      .filter(row => row.state !== 'away' && row.entry?.keptAt !== undefined)
      .flatMap(row => pupilsOf(row, classes)),
  );
  const all = classes.flatMap(list => list.pupils.map(codeName => keyOf(list.name, codeName)));
  return { kept: all.filter(one => have.has(one)).length, of: all.length };
};

/** What the register shows; an empty text asks for nothing. */
export interface RegisterFilter {
  readonly className: string;
  /** A state of lines, or those of whose piece the teacher has said nothing yet. */
  readonly state: RowState | 'unanswered' | '';
  readonly treatment: string;
  readonly metre: string;
  readonly key: string;
  readonly words: string;
}

export const NO_FILTER: RegisterFilter = {
  className: '',
  state: '',
  treatment: '',
  metre: '',
  key: '',
  words: '',
};

const isIn = (row: RegisterRow, state: RowState | 'unanswered'): boolean =>
  state === 'unanswered' ? row.facts?.hasFeedback === false && row.state !== 'away' : row.state === state;

/**
 * The lines that are asked for. What is put away is shown only when it is asked for.
 * @example
 * filteredRows([], NO_FILTER) // => []
 */
export const filteredRows = (rows: readonly RegisterRow[], asked: RegisterFilter): readonly RegisterRow[] => {
  const words = askedWords(asked.words);
  return rows.filter(row => {
    if (asked.className !== '' && row.className !== asked.className && row.codeName !== '') return false;
    if (asked.state === '' ? row.state === 'away' : !isIn(row, asked.state)) return false;
    if (asked.treatment !== '' || asked.metre !== '' || asked.key !== '') {
      const { facts } = row;
      if (facts === undefined) return false;
      if (asked.treatment !== '' && !facts.treatments.includes(asked.treatment)) return false;
      if (asked.metre !== '' && !facts.metres.includes(asked.metre)) return false;
      if (asked.key !== '' && facts.key !== asked.key) return false;
    }
    if (words.length === 0) return true;
    return row.facts === undefined
      ? hasWords(`${row.codeName} ${row.className}`, words)
      : factsHaveWords(row.facts, words);
  });
};

/** What the register can be sorted by. */
export type SortBy = 'pupil' | 'idea' | 'grown' | 'state';

const STATES: readonly RowState[] = ['rivals', 'nothing', 'draft', 'kept', 'away'];

const sortText = (row: RegisterRow, by: SortBy): string => {
  switch (by) {
    case 'pupil':
      return sameName(row.codeName);
    case 'idea':
      return row.facts === undefined ? '\uffff' : sameName(row.facts.title);
    case 'grown':
      return row.facts === undefined ? '\uffff' : row.facts.treatments.join(', ') || '\ufffe';
    case 'state':
      return String(STATES.indexOf(row.state));
  }
};

/** Names with numbers in them stand in the order of the numbers: Heron 2 before Heron 10. */
const byNumber = (text: string): string => text.replace(/\d+/g, digits => digits.padStart(16, '0'));

/**
 * Lines in order; those alike by code name, then title. Pupils without anything come last where it is
 * ideas that are sorted.
 * @example
 * sortedRows([], 'pupil', false) // => []
 */
export const sortedRows = (
  rows: readonly RegisterRow[],
  by: SortBy,
  fromTheEnd: boolean,
): readonly RegisterRow[] => {
  const keyed = rows.map(row => ({
    row,
    first: byNumber(sortText(row, by)),
    then: [byNumber(sameName(row.codeName)), byNumber(sortText(row, 'idea')), row.id] as const,
  }));
  const text = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
  const way = fromTheEnd ? -1 : 1;
  return keyed
    .sort(
      (a, b) =>
        way * text(a.first, b.first) ||
        text(a.then[0], b.then[0]) ||
        text(a.then[1], b.then[1]) ||
        text(a.then[2], b.then[2]),
    )
    .map(({ row }) => row);
};
