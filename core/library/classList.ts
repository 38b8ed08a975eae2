import { z } from '../foundation/schema.ts';
import { failed, ok, type Result } from '../foundation/result.ts';
import type { Key } from '../foundation/key.ts';
import { keyShape } from './figureShapes.ts';
import { safeName } from './pieceShape.ts';

/** Pupils who make one piece together. */
export interface Group {
  /** What the shared piece is filed under. */
  readonly name: string;
  /** Their code names. */
  readonly pupils: readonly string[];
}

/** A class: code names in the order they were entered. Real names are kept nowhere. */
export interface ClassList {
  /** Begins with `class-`: its place in the library. */
  readonly id: string;
  readonly name: string;
  readonly pupils: readonly string[];
  readonly groups: readonly Group[];
  /** The key the class works in; absent where it works in any. */
  readonly key?: Key;
}

/** Most letters of a code name or of a class's name: what fits the register and a printed line. */
export const MOST_NAME_LETTERS = 40;
/** Most pupils of a class, and most groups: several times the largest. */
export const MOST_PUPILS = 200;

/** The beginning of a class list's id; pieces have none such. */
export const CLASS_ID = 'class-';

/**
 * Whether an item of the library is a class list.
 * @example
 * isClassId('class-mi0abc') // => true
 */
export const isClassId = (id: string): boolean => id.startsWith(CLASS_ID);

const name = z.string().min(1).max(MOST_NAME_LETTERS);
type Fields<T> = Readonly<Record<keyof T, z.ZodType>>;

const distinct = (names: readonly string[]): boolean => new Set(names.map(sameName)).size === names.length;

/** A class list as the present version stores it. */
export const classShape: z.ZodType<ClassList> = z
  .strictObject({
    id: safeName.refine(isClassId),
    name,
    pupils: z.array(name).max(MOST_PUPILS).refine(distinct, 'a code name twice'),
    groups: z
      .array(
        z.strictObject({
          // Two code names of full length with "and" between fit.
          name: z
            .string()
            .min(1)
            .max(3 * MOST_NAME_LETTERS),
          pupils: z.array(name).min(1).max(MOST_PUPILS),
        } satisfies Fields<Group>),
      )
      .max(MOST_PUPILS),
    key: keyShape.exactOptional(),
  } satisfies Fields<ClassList>)
  .refine(list => distinct(list.groups.map(group => group.name)), 'a group twice');

/**
 * What makes two code names the same to a reader: capitals, accents and spaces aside.
 * @example
 * sameName(' OTTER ') === sameName('Otter') // => true
 */
export const sameName = (codeName: string): string =>
  codeName.normalize('NFKD').replace(/\p{M}/gu, '').replace(/\s+/g, ' ').trim().toLowerCase();

/** Names found in a text, and what became of the rest: nothing is dropped without a word. */
export interface EnteredNames {
  readonly names: readonly string[];
  /** Names that came again, each as it was written then. */
  readonly twice: readonly string[];
  /** Names cut to the longest a name may be, as they now are. */
  readonly cut: readonly string[];
  /** Names beyond the most a class may have. */
  readonly over: readonly string[];
  /** Lines or places between commas with nothing in them. */
  readonly blank: number;
}

/** Characters that print nothing or turn the line round. */
const UNSEEN = /[\p{Cc}\p{Cf}]/gu;

/**
 * Code names typed or pasted, one a line or with commas, semicolons or tabs between.
 * @param already on the list; the same names again are told as twice
 * @example
 * enteredNames('Otter, Heron\n\notter').names // => ['Otter', 'Heron']
 * enteredNames('Otter, Heron\n\notter').twice // => ['otter']
 */
export const enteredNames = (text: string, already: readonly string[] = []): EnteredNames => {
  const known = new Set(already.map(sameName));
  const names: string[] = [];
  const twice: string[] = [];
  const cut: string[] = [];
  const over: string[] = [];
  let blank = 0;
  // The end of the last line is no blank line.
  const body = text.replace(/[\s,;]+$/u, '');
  if (body === '') return { names, twice, cut, over, blank };
  for (const part of body.split(/\r\n|[\n\r,;\t\u2028\u2029]/)) {
    const written = part.replace(UNSEEN, '').replace(/\s+/g, ' ').trim();
    if (written === '') {
      blank += 1;
      continue;
    }
    // A letter of two units is never cut in half.
    const named = written
      .slice(0, MOST_NAME_LETTERS)
      .replace(/\p{Cs}$/u, '')
      .trim();
    if (known.has(sameName(named))) twice.push(named);
    else if (already.length + names.length >= MOST_PUPILS) over.push(named);
    else {
      known.add(sameName(named));
      names.push(named);
      if (named !== written) cut.push(named);
    }
  }
  return { names, twice, cut, over, blank };
};

const plural = (count: number, one: string, more: string): string =>
  count === 1 ? `one ${one}` : `${String(count)} ${more}`;

/**
 * What was entered, in a sentence for the teacher.
 * @example
 * enteredWords(enteredNames('Otter, Heron, otter')) // => '2 code names. Twice, so entered once: otter.'
 */
export const enteredWords = ({ names, twice, cut, over, blank }: EnteredNames): string =>
  [
    `${plural(names.length, 'code name', 'code names')}.`.replace(/^one/, 'One'),
    twice.length === 0 ? '' : `Twice, so entered once: ${twice.join(', ')}.`,
    cut.length === 0 ? '' : `Shortened: ${cut.join(', ')}.`,
    over.length === 0
      ? ''
      : `Left out, because a class holds ${String(MOST_PUPILS)} at the most: ${over.join(', ')}.`,
    blank === 0
      ? ''
      : `${plural(blank, 'empty line was', 'empty lines were')} left out.`.replace(/^one/, 'One'),
  ]
    .filter(sentence => sentence !== '')
    .join(' ');

/**
 * A class with more pupils, those already there once.
 * @example
 * withPupils({ id: 'class-1', name: '8K', pupils: ['Otter'], groups: [] }, ['Heron']).pupils // => ['Otter', 'Heron']
 */
export const withPupils = (list: ClassList, codeNames: readonly string[]): ClassList => ({
  ...list,
  pupils: [...list.pupils, ...enteredNames(codeNames.join('\n'), list.pupils).names],
});

/**
 * A class without one pupil; the pieces of that pupil stay in the register.
 * @example
 * withoutPupil({ id: 'class-1', name: '8K', pupils: ['Otter'], groups: [] }, 'Otter').pupils // => []
 */
export const withoutPupil = (list: ClassList, codeName: string): ClassList => ({
  ...list,
  pupils: list.pupils.filter(pupil => pupil !== codeName),
  groups: list.groups
    .map(group => ({ ...group, pupils: group.pupils.filter(pupil => pupil !== codeName) }))
    .filter(group => group.pupils.length > 0),
});

/**
 * What a group is called after its pupils.
 * @example
 * groupName(['Heron', 'Otter', 'Wren']) // => 'Heron, Otter and Wren'
 */
export const groupName = (pupils: readonly string[]): string =>
  pupils.length < 2 ? pupils.join('') : `${pupils.slice(0, -1).join(', ')} and ${pupils.at(-1) ?? ''}`;

/**
 * A class with one more group; pupils in the order of the list.
 * @returns 'bad-request' where there are fewer than two, or the same group is there
 * @example
 * withGroup({ id: 'class-1', name: '8K', pupils: ['Otter', 'Heron'], groups: [] }, ['Heron', 'Otter']).ok // => true
 */
export const withGroup = (list: ClassList, codeNames: readonly string[]): Result<ClassList> => {
  const pupils = list.pupils.filter(pupil => codeNames.includes(pupil));
  if (pupils.length < 2) return failed(noGroup('A group is two pupils or more.', 'Choose another one.'));
  const whole = groupName(pupils);
  const named =
    whole.length <= 3 * MOST_NAME_LETTERS
      ? whole
      : `${pupils[0] ?? ''} and ${String(pupils.length - 1)} more`;
  if (list.groups.some(group => sameName(group.name) === sameName(named)))
    return failed(noGroup(`There is a group “${named}” already.`, 'Choose other pupils.'));
  return ok({ ...list, groups: [...list.groups, { name: named, pupils }] });
};

const noGroup = (what: string, next: string) =>
  ({ kind: 'bad-request', what, kept: 'The class list is as it was.', next }) as const;

/**
 * A class list as several machines have changed it, with all that any of them has: nobody goes missing.
 * @param lists newest first; none of them made from another
 * @example
 * const one = { id: 'class-1', name: '8K', pupils: ['Otter'], groups: [] };
 * mergedClass(one, [{ ...one, pupils: ['Heron'] }]).pupils // => ['Otter', 'Heron']
 */
export const mergedClass = (list: ClassList, others: readonly ClassList[]): ClassList =>
  others.reduce(
    (so, other) => ({
      ...(so.key === undefined && other.key !== undefined ? { key: other.key } : {}),
      ...withPupils(so, other.pupils),
      groups: [
        ...so.groups,
        ...other.groups.filter(
          group => !so.groups.some(there => sameName(there.name) === sameName(group.name)),
        ),
      ].slice(0, MOST_PUPILS),
    }),
    list,
  );

/**
 * Who comes after somebody on the list, round and round; the first after somebody who is not on it.
 * A group is followed by the next group.
 * @example
 * const list = { id: 'class-1', name: '8K', pupils: ['Otter', 'Heron'], groups: [] };
 * pupilAfter(list, 'Otter') // => 'Heron'
 * pupilAfter(list, 'Heron') // => 'Otter'
 * pupilAfter({ ...list, pupils: [] }, 'Heron') // => undefined
 */
export const pupilAfter = (list: ClassList, codeName: string | undefined): string | undefined => {
  const groups = list.groups.map(group => group.name);
  const isGroup = codeName !== undefined && groups.includes(codeName) && !list.pupils.includes(codeName);
  const row = isGroup ? groups : list.pupils;
  return row[(codeName === undefined ? 0 : row.indexOf(codeName) + 1) % Math.max(1, row.length)];
};
