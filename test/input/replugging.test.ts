// @vitest-environment happy-dom
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createMidiInput } from '../../renderer/input/midiInput.ts';
import { type FakeMidi, installFakeWebMidi } from '../fakes/webMidi.ts';

/** Devices that come and go in a lesson, by name. */
const NAMES = ['Pad A', 'Pad B', 'Keys'] as const;

/** What may happen to one of them, and to the whole. */
interface ToOne {
  readonly kind: 'plug' | 'unplug' | 'hold' | 'release' | 'strike' | 'nonsense';
  readonly which: number;
  /** Which of two octaves of bars is struck. */
  readonly n: number;
}
interface ToAll {
  readonly kind: 'settle' | 'again' | 'stop';
}
type Happening = ToOne | ToAll;

const which = fc.nat({ max: NAMES.length - 1 });
const device = (kind: ToOne['kind']): fc.Arbitrary<Happening> =>
  fc.record({ kind: fc.constant(kind), which, n: fc.nat({ max: 24 }) });
const happening: fc.Arbitrary<Happening> = fc.oneof(
  { weight: 5, arbitrary: device('strike') },
  { weight: 3, arbitrary: device('plug') },
  { weight: 3, arbitrary: device('unplug') },
  { weight: 1, arbitrary: fc.oneof(device('hold'), device('release'), device('nonsense')) },
  { weight: 4, arbitrary: fc.constant({ kind: 'settle' } as const) },
  {
    weight: 1,
    arbitrary: fc.oneof(fc.constant({ kind: 'again' } as const), fc.constant({ kind: 'stop' } as const)),
  },
);
/** Lets ports open, and whatever waits for that. */
const settle = (): Promise<void> => new Promise(resolve => setTimeout(resolve, 0));

/** Plays a history; what was heard beside what open ports delivered, and what is listed beside what is plugged in. */
const played = async (history: readonly Happening[]) => {
  const midi: FakeMidi = installFakeWebMidi(window);
  const heard: string[] = [];
  const delivered: string[] = [];
  const gone: string[] = [];
  let listed: readonly string[] = [];
  const problems: unknown[] = [];
  const input = createMidiInput({
    onStrike: strike => heard.push(`${strike.by.name} ${String(strike.pitch)}`),
    onRelease: () => undefined,
    onDevices: now => (listed = now.map(({ name }) => name)),
    onGone: ({ name }) => gone.push(name),
    onProblem: problem => problems.push(problem),
  });
  await input.start();
  const ids = new Map<string, string>();
  const plugged = new Set<string>();
  let isOn = true;
  let unpluggings = 0;
  for (const one of history) {
    if ('which' in one) {
      const name = NAMES[one.which] ?? 'Keys';
      const id = ids.get(name);
      if (one.kind === 'plug' && !plugged.has(name)) {
        ids.set(name, midi.plug(name));
        plugged.add(name);
      } else if (one.kind === 'unplug' && id !== undefined && plugged.delete(name)) {
        midi.unplug(id);
        if (isOn) unpluggings += 1;
      } else if (one.kind === 'hold') {
        midi.hold(name);
      } else if (one.kind === 'release') {
        midi.release(name);
      } else if (one.kind === 'nonsense' && id !== undefined) midi.send(id, [0x90, 200]);
      else if (one.kind === 'strike' && id !== undefined && midi.send(id, [0x90, 60 + one.n, 80]) && isOn)
        delivered.push(`${name} ${String(60 + one.n)}`);
    } else if (one.kind === 'settle') {
      await settle();
      if (isOn) expect([...listed].sort()).toEqual([...plugged].sort());
    } else if (one.kind === 'again') {
      await input.start();
      isOn = true;
    } else {
      await input.stop();
      isOn = false;
    }
  }
  // At the end all is plugged in and free, and somebody strikes.
  for (const name of NAMES) {
    midi.release(name);
    if (!plugged.has(name)) ids.set(name, midi.plug(name));
  }
  await input.start();
  await settle();
  const last = NAMES.map(name => midi.send(ids.get(name) ?? '', [0x90, 90, 80]));
  delivered.push(...NAMES.map(name => `${name} 90`));
  await settle();
  await input.stop();
  return { heard, delivered, listed: [...listed].sort(), last, problems, gone: gone.length, unpluggings };
};

describe('devices that come and go at random', () => {
  it('are heard once a strike while their port delivers, by their own name, and told of when they go', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(happening, { minLength: 1, maxLength: 40 }), async history => {
        const { heard, delivered, listed, last, problems, gone, unpluggings } = await played(history);
        expect(heard).toEqual(delivered);
        expect(listed).toEqual([...NAMES].sort());
        expect(last).toEqual([true, true, true]);
        expect(problems).toEqual([]);
        expect(gone).toBe(unpluggings);
      }),
      { seed: 16, numRuns: 150 },
    );
  });
});
