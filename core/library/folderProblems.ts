import { failed, type Failed } from '../foundation/result.ts';

// Problems that every maker of a folder tells in the same words.

/**
 * A file that is not there ('not-found').
 * @example
 * missing('items/a.json').problem.kind // => 'not-found'
 */
export const missing = (path: string): Failed =>
  failed({
    kind: 'not-found',
    what: `The file ${path} is not there.`,
    kept: 'Nothing was changed.',
    next: 'Check that the folder is whole, for instance that it has finished syncing.',
  });

/**
 * A file that would have been overwritten ('bad-request').
 * @example
 * alreadyThere('items/a.json').problem.kind // => 'bad-request'
 */
export const alreadyThere = (path: string): Failed =>
  failed({
    kind: 'bad-request',
    what: `There is a file ${path} already.`,
    kept: 'It was left as it is.',
    next: 'Try once more; a new name will be taken.',
  });

/**
 * A file that is no draft of ours, and so is never removed ('bad-request').
 * @example
 * noDraft('items/a/r1.json').problem.kind // => 'bad-request'
 */
export const noDraft = (path: string): Failed =>
  failed({
    kind: 'bad-request',
    what: `The file ${path} is no draft.`,
    kept: 'It was left as it is.',
    next: 'Put the piece away instead; what somebody kept is never removed.',
  });

/**
 * No room on the disk ('disk-full').
 * @example
 * diskFull('ENOSPC').problem.kind // => 'disk-full'
 */
export const diskFull = (detail: string): Failed =>
  failed({
    kind: 'disk-full',
    what: 'There is no room left where the class library is.',
    kept: 'Everything kept before is untouched, and the piece is still open here.',
    next: 'Make room there and keep it again, or export the MusicXML file.',
    detail,
  });

/**
 * The folder or its drive cannot be reached, for no reason we know better.
 * @example
 * unreachable('EIO').problem.kind // => 'folder-gone'
 */
export const unreachable = (detail: string): Failed =>
  failed({
    kind: 'folder-gone',
    what: 'The class library cannot be reached.',
    kept: 'Nothing in it was changed, and the open piece is still here.',
    next: 'Check that its folder or drive is there, then try again.',
    detail,
  });

/**
 * A file too large to be ours ('too-large'): it is not even read.
 * @example
 * tooLargeFile('items/a/r1.json').problem.kind // => 'too-large'
 */
export const tooLargeFile = (path: string): Failed =>
  failed({
    kind: 'too-large',
    what: `The file ${path} is larger than any piece and was set aside.`,
    kept: 'It was left where it is, and everything else in the class library opened.',
    next: 'Look whether it belongs there at all.',
  });

/**
 * What has a file's name and is a folder, a pipe or a device ('damaged-file'); reading it could wait for ever.
 * @example
 * notAFile('items/a/r1.json').problem.kind // => 'damaged-file'
 */
export const notAFile = (path: string): Failed =>
  failed({
    kind: 'damaged-file',
    what: `${path} is no ordinary file and was set aside.`,
    kept: 'It was left where it is, and everything else in the class library opened.',
    next: 'Look whether it belongs there at all.',
  });
