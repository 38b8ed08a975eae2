import type { Problem } from '../../../core/foundation/result.ts';
import type { Packed } from '../../../core/library/portable/pack.ts';
import type { TakenIn } from '../../../core/library/portable/takeIn.ts';

// What is said about portable files.

/** A number and what is counted. @example count(2, 'piece') // "2 pieces" */
export const count = (n: number, what: string): string => `${String(n)} ${what}${n === 1 ? '' : 's'}`;

/** What a portable file holds, counted. */
export const contentOf = ({ pieces, classes }: Pick<Packed, 'pieces' | 'classes'>): string =>
  classes === 0 ? count(pieces, 'piece') : `${count(pieces, 'piece')} and ${count(classes, 'class list')}`;

/** What came in, in one sentence. */
export const cameIn = (name: string, taken: TakenIn): string => {
  const { newPieces, morePieces, classes, stopped } = taken;
  const parts = [
    ...(newPieces.length === 0 ? [] : [count(newPieces.length, 'new piece')]),
    ...(morePieces.length === 0 ? [] : [`newer work on ${count(morePieces.length, 'piece')}`]),
    ...(classes === 0 ? [] : [count(classes, 'class list')]),
  ];
  const came = parts.length === 0 ? 'nothing new' : parts.join(', ');
  if (stopped) return `Stopped; from ${name} came ${came}.`;
  return parts.length === 0 ? `All of ${name} was here already.` : `From ${name} came ${came}.`;
};

export const NOT_MADE: Problem = {
  kind: 'unexpected',
  what: 'The portable file could not be made.',
  kept: 'Every piece is as it was.',
  next: 'Try again with fewer pieces.',
};

export const NOT_CHECKED: Problem = {
  kind: 'unexpected',
  what: 'The class library could not be read through.',
  kept: 'Nothing in it was changed.',
  next: 'Try again; if it happens again, copy the folder of the class library as a backup.',
};

/** The file is gone, or its disk fails. */
export const notRead = (name: string): Problem => ({
  kind: 'not-found',
  what: `${name} could not be read from the disk.`,
  kept: 'Everything here is as it was.',
  next: 'Check that the file is still there and try again.',
});

/** It is not even read. */
export const tooLarge = (name: string): Problem => ({
  kind: 'too-large',
  what: `${name} is too large for a portable file.`,
  kept: 'Everything here is as it was.',
  next: 'Make a portable file of each class where it comes from.',
});

/** What could not be read is not in the file. */
export const notPacked = (name: string, damaged: readonly Problem[]): Problem => ({
  kind: 'damaged-file',
  what: `${count(damaged.length, 'file')} of the class library cannot be read and so did not go into ${name}.`,
  kept: 'Everything else is in it.',
  next: 'The register in Keep says which.',
});

/** Some of the file did not come in: the first in full, the others counted. */
export const notTakenIn = (name: string, refused: readonly Problem[], taken: TakenIn): Problem => {
  const [first] = refused;
  const others = refused.length - 1;
  return {
    kind: 'damaged-file',
    what: `${first?.what ?? ''}${others === 0 ? '' : ` So ${others === 1 ? 'was one other' : `were ${String(others)} others`}.`}`,
    kept: cameIn(name, taken),
    next: first?.next ?? '',
    ...(first?.detail === undefined ? {} : { detail: first.detail }),
  };
};
