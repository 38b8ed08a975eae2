/**
 * Errors are values. A Problem speaks to the teacher in three short sentences: what happened,
 * what was kept, what to do. `kind` is for code; the sentences are for people.
 */
export type ProblemKind =
  | 'not-midi'
  | 'damaged-midi'
  | 'too-large'
  | 'no-notes'
  | 'damaged-file'
  | 'newer-file'
  | 'midi-refused'
  | 'midi-missing'
  | 'midi-silent'
  | 'no-sound'
  | 'microphone-refused'
  | 'microphone-missing'
  | 'microphone-held'
  | 'microphone-gone'
  | 'disk-full'
  | 'folder-refused'
  | 'folder-gone'
  | 'not-found'
  | 'out-of-range'
  | 'conflict'
  | 'bad-request'
  | 'unexpected';

export interface Problem {
  readonly kind: ProblemKind;
  /** What happened. */
  readonly what: string;
  /** What was kept; always true, never a guess. */
  readonly kept: string;
  /** What to do next. */
  readonly next: string;
  /** For the log and for developers; never shown first. */
  readonly detail?: string;
}

export type Ok<T> = { readonly ok: true; readonly value: T };
export type Failed = { readonly ok: false; readonly problem: Problem };
export type Result<T> = Ok<T> | Failed;

/**
 * An answer that could be given.
 * @example
 * ok(3) // => { ok: true, value: 3 }
 */
export const ok = <T>(value: T): Ok<T> => ({ ok: true, value });
/**
 * An answer that could not be given, and why.
 * @example
 * failed({ kind: 'not-found', what: 'Gone.', kept: 'Nothing was changed.', next: 'Try again.' }).ok // => false
 */
export const failed = (problem: Problem): Failed => ({ ok: false, problem });

/** The three sentences as one text. */
export const say = (problem: Problem): string =>
  [problem.what, problem.kept, problem.next].filter(part => part !== '').join(' ');

/** The message of anything thrown, for `detail`. */
export const detailOf = (thrown: unknown): string =>
  thrown instanceof Error ? thrown.message : String(thrown);
