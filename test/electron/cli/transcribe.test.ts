import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { wav16 } from '../../../core/exchange/wav.ts';
import { MODELS, soundOf, type TestBlow } from '../../hearing/bars.ts';

const folder = mkdtempSync(join(tmpdir(), 'malletloom-transcribe-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});
const recording = (name: string, blows: readonly TestBlow[]): string => {
  const { rate, samples } = soundOf(blows, MODELS.xylophone);
  const path = join(folder, name);
  writeFileSync(path, wav16([samples], rate));
  return path;
};
const transcribe = (...args: string[]): { code: number | null; out: string; err: string } => {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [join('node_modules', 'tsx', 'dist', 'cli.mjs'), 'electron/cli/transcribe.ts', ...args],
    { encoding: 'utf8' },
  );
  return { code: status, out: stdout, err: stderr };
};
const soundingOf = (json: string): number[] =>
  (JSON.parse(json) as { strikes: { sounding: number }[] }).strikes.map(strike => strike.sounding);

// Off by up to 40 cents each, as school sets may be (the issue's own figure): the E is sharp, the others are flat.
const PITCHES: Readonly<Record<number, number>> = {
  72: 71.7,
  74: 73.75,
  76: 76.4,
  77: 76.8,
  79: 78.7,
  81: 80.72,
  83: 82.7,
  84: 83.75,
};
const TUNE = [72, 76, 79, 76, 74, 72, 84, 79];
const asPlayed = TUNE.map((bar, i) => ({ at: 0.6 + i * 0.4, midi: PITCHES[bar] ?? 0 }));

it('hears the bars of a set that was learnt from each bar struck once, at the command line too', () => {
  const take = recording('take.wav', asPlayed);
  const once = recording(
    'once.wav',
    Object.values(PITCHES).map((midi, i) => ({ at: 0.6 + i, midi })),
  );
  const known = transcribe('--free', '--json', '--bars', once, take);
  expect(known.err).toBe('');
  expect(known.code).toBe(0);
  expect(soundingOf(known.out)).toEqual(TUNE);
  // Without the set the sharp E is taken for an F: what is learnt is not already known.
  expect(soundingOf(transcribe('--free', '--json', take).out)).not.toEqual(TUNE);
});

it('says in a sentence when no bars can be learnt, and reads nothing then', () => {
  const take = recording('take.wav', asPlayed);
  const one = recording('one.wav', [{ at: 0.6, midi: 72 }]);
  expect(transcribe('--bars', one, take)).toMatchObject({ code: 2, out: '' });
  expect(transcribe('--bars', one, take).err).toContain('Only one bar was heard');
  expect(transcribe('--bars', join(folder, 'none.wav'), take).err).toContain('cannot be opened');
  expect(transcribe('--bars').err).toContain('--bars needs a WAV recording');
});
