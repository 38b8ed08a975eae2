import type { Result } from '../../core/foundation/result.ts';
import { heardIn, type SoundFile } from '../../core/hearing/soundFile.ts';
import type { StruckBar } from '../../core/hearing/hear.ts';

self.addEventListener('message', (event: MessageEvent<SoundFile>) => {
  const answer: Result<readonly StruckBar[]> = heardIn(event.data);
  self.postMessage(answer);
});
