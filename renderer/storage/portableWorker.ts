import type { Result } from '../../core/foundation/result.ts';
import { makePortable } from '../../core/library/portable/makePortable.ts';
import type { CarriedFile, PortableAbout } from '../../core/library/portable/manifest.ts';
import { type Portable, readPortable } from '../../core/library/portable/readPortable.ts';
import { sha256 } from './libraryTools.ts';

/** Files to be packed, or a portable file to be read. */
export type PortableQuestion =
  | { readonly what: 'make'; readonly files: readonly CarriedFile[]; readonly about: PortableAbout }
  | { readonly what: 'read'; readonly bytes: Uint8Array; readonly name: string };

/** The answer to 'make', or to 'read'. */
export type PortableAnswer = Result<Uint8Array> | Result<Portable>;

self.addEventListener('message', (event: MessageEvent<PortableQuestion>) => {
  const question = event.data;
  const answer: Promise<PortableAnswer> =
    question.what === 'make'
      ? makePortable(question.files, question.about, sha256)
      : readPortable(question.bytes, question.name, sha256);
  void answer.then(result => {
    self.postMessage(result);
  });
});
