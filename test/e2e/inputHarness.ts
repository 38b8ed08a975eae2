// Bundled into an empty page by input.spec.ts; nothing of the app's own page is in it.
import { createMidiInput } from '../../renderer/input/midiInput.ts';
import type { Problem } from '../../core/foundation/result.ts';
import type { Struck } from '../../renderer/input/struck.ts';

const strikes: Struck[] = [];
const problems: Problem[] = [];
const input = createMidiInput({
  onStrike: strike => strikes.push(strike),
  onRelease: () => undefined,
  onDevices: () => undefined,
  onProblem: problem => problems.push(problem),
});
const midiHarness = { input, strikes, problems };
export type MidiHarness = typeof midiHarness;
Object.assign(globalThis, { midiHarness });
