import type { Result } from '../../core/foundation/result.ts';
import type { HeardAgain, Known } from '../../core/hearing/again.ts';
import { heardAgainIn, heardIn, type SoundFile } from '../../core/hearing/soundFile.ts';
import type { StruckBar } from '../../core/hearing/hear.ts';

/** A recording, and what is known of it where it is heard a second time. */
export interface ToHear {
  readonly file: SoundFile;
  readonly again?: Known | undefined;
}

self.addEventListener('message', ({ data }: MessageEvent<ToHear>) => {
  const answer: Result<readonly StruckBar[] | HeardAgain> =
    data.again === undefined ? heardIn(data.file) : heardAgainIn(data.file, data.again);
  self.postMessage(answer);
});
