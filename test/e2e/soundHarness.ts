// Bundled into an empty page by sound.spec.ts; nothing of the app's own page is in it.
import { createSound } from '../../renderer/sound/sound.ts';
import { createVoices } from '../../renderer/sound/voices.ts';

const harness = { createSound, createVoices, sound: createSound() };
export type SoundHarness = typeof harness;
Object.assign(globalThis, { harness });
