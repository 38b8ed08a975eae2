// Bundled into an empty page by sound.spec.ts; nothing of the app's own page is in it.
import { createSound } from '../../renderer/sound/sound.ts';

const harness = { createSound, sound: createSound() };
export type SoundHarness = typeof harness;
Object.assign(globalThis, { harness });
