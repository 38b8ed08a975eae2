import { failed, type Problem, type Result } from '../../core/foundation/result.ts';
import type { CarriedFile, PortableAbout } from '../../core/library/portable/manifest.ts';
import type { Portable } from '../../core/library/portable/readPortable.ts';
import { onOwnThread } from '../threads/ownThread.ts';
import type { PortableQuestion } from './portableWorker.ts';

/** Longest time one portable file may take, in ms; the library of a school takes some seconds. */
const LIMIT = 120_000;

/** Packs and unpacks portable files; undefined when it was stopped. Problems: those of core, and 'too-large' after two minutes. */
export interface PortableFiles {
  readonly make: (
    files: readonly CarriedFile[],
    about: PortableAbout,
    signal: AbortSignal,
  ) => Promise<Result<Uint8Array> | undefined>;
  readonly read: (
    bytes: Uint8Array,
    name: string,
    signal: AbortSignal,
  ) => Promise<Result<Portable> | undefined>;
}

const ask = async <T>(question: PortableQuestion, signal: AbortSignal): Promise<Result<T> | undefined> => {
  const asked = await onOwnThread<Result<T>>(
    () => new Worker(new URL('./portableWorker.ts', import.meta.url), { type: 'module' }),
    question,
    { limit: LIMIT, signal },
  );
  if (asked.ok) return asked.value;
  if (asked.why === 'stopped') return undefined;
  return failed(asked.why === 'time' ? TOO_LONG : { ...BROKE, detail: asked.why.broke });
};

const KEPT = 'Nothing was changed, here or in the file.';
const TOO_LONG: Problem = {
  kind: 'too-large',
  what: 'The portable file took too long and was given up.',
  kept: KEPT,
  next: 'Make a portable file of each class instead.',
};
const BROKE: Problem = {
  kind: 'unexpected',
  what: 'There was not enough memory for this portable file.',
  kept: KEPT,
  next: 'Close other windows and try again, or make a portable file of each class.',
};

/** Portable files on a thread of their own, so that the page never stands still. */
export const portableFiles: PortableFiles = {
  make: (files, about, signal) => ask<Uint8Array>({ what: 'make', files, about }, signal),
  read: (bytes, name, signal) => ask<Portable>({ what: 'read', bytes, name }, signal),
};
