import type { Piece } from './piece.ts';

/** Whose work something is: a code name in a class, never a real name. A group of pupils is one too. */
export interface Pupil {
  readonly codeName: string;
  /** Empty where there is no class list. */
  readonly className: string;
}

type Owned = Pick<Piece, 'codeName' | 'className'>;

/** What is said where nobody was chosen when it was caught. */
export const NOT_YET_GIVEN = 'not yet given';

/**
 * Whose piece it is; undefined for one that was caught before anyone was chosen.
 * @example
 * pupilOf({ codeName: 'Heron', className: '8 Kestrel' }) // => { codeName: 'Heron', className: '8 Kestrel' }
 * pupilOf({ codeName: '', className: '' }) // => undefined
 */
export const pupilOf = ({ codeName, className }: Owned): Pupil | undefined =>
  codeName === '' ? undefined : { codeName, className };

/**
 * The names a piece of this pupil carries.
 * @example
 * ownedBy(undefined) // => { codeName: '', className: '' }
 */
export const ownedBy = (pupil: Pupil | undefined): Owned => ({
  codeName: pupil?.codeName ?? '',
  className: pupil?.className ?? '',
});

/**
 * Whether both are the same pupil, or both nobody.
 * @example
 * isSamePupil(undefined, { codeName: 'Heron', className: '' }) // => false
 */
export const isSamePupil = (a: Pupil | undefined, b: Pupil | undefined): boolean =>
  a?.codeName === b?.codeName && a?.className === b?.className;

/**
 * The code name in words.
 * @example
 * nameOfPupil({ codeName: '', className: '' }) // => 'not yet given'
 */
export const nameOfPupil = (pupil: Pupil | undefined): string =>
  pupil === undefined || pupil.codeName === '' ? NOT_YET_GIVEN : pupil.codeName;

/**
 * A piece in words: its title, and whose it is.
 * @example
 * pieceInWords({ codeName: '', title: 'Idea' }) // => 'Idea, not yet given'
 */
export const pieceInWords = (piece: Pick<Piece, 'codeName' | 'title'>): string =>
  piece.codeName === '' ? `${piece.title}, ${NOT_YET_GIVEN}` : `${piece.title} by ${piece.codeName}`;
