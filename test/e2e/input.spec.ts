import { build } from 'esbuild';
import { type Browser, chromium, expect, type Page, test } from 'playwright/test';
import { installFakeWebMidi, type WindowWithFakeMidi } from '../fakes/webMidi.ts';
import type { MidiHarness } from './inputHarness.ts';

declare global {
  var midiHarness: MidiHarness;
}

/** webmidi in a real browser: with the fake in place of its MIDI, and without. */
let browser: Browser;
let script: string;

test.beforeAll(async () => {
  const bundle = await build({
    entryPoints: ['test/e2e/inputHarness.ts'],
    bundle: true,
    write: false,
    format: 'iife',
    target: 'chrome120',
  });
  script = bundle.outputFiles[0]?.text ?? '';
  browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
});
test.afterAll(async () => {
  await browser.close();
});

const open = async (prepare: (page: Page) => Promise<void> = () => Promise.resolve()): Promise<Page> => {
  const page = await browser.newPage();
  await prepare(page);
  await page.route('**/*', route =>
    route.fulfill({ contentType: 'text/html', body: '<!doctype html><title>Input</title>' }),
  );
  await page.goto('http://localhost/');
  await page.addScriptTag({ content: script });
  return page;
};

test('a pad plugged in after the start, unplugged and plugged in again loses and doubles nothing', async () => {
  const page = await open(async page => {
    await page.addInitScript(installFakeWebMidi as () => void);
  });
  const heard = await page.evaluate(async () => {
    const { fakeMidi } = window as unknown as WindowWithFakeMidi;
    const settle = (): Promise<void> => new Promise(resolve => setTimeout(resolve, 20));
    await midiHarness.input.start();
    const id = fakeMidi.plug('Pad');
    await settle();
    const at = performance.now();
    fakeMidi.send(id, [0x90, 60, 100], at);
    fakeMidi.unplug(id);
    fakeMidi.plug('Pad');
    await settle();
    fakeMidi.send(id, [0x90, 62, 100]);
    await midiHarness.input.stop();
    return { at, strikes: midiHarness.strikes, problems: midiHarness.problems };
  });
  expect(heard.strikes.map(({ pitch }) => pitch)).toEqual([60, 62]);
  expect(heard.strikes[0]?.at).toBeCloseTo(heard.at / 1000, 9);
  expect(heard.problems).toEqual([]);
  await page.close();
});

test('a browser that refuses MIDI is told apart from one that has none, and neither throws', async () => {
  const errors: Error[] = [];
  // No permission has been given here, so this Chromium itself says no.
  const page = await open(async page => {
    page.on('pageerror', error => errors.push(error));
    await Promise.resolve();
  });
  const kinds = await page.evaluate(async () => {
    await midiHarness.input.start();
    Object.defineProperty(navigator, 'requestMIDIAccess', { value: undefined, configurable: true });
    await midiHarness.input.start();
    return midiHarness.problems.map(({ kind }) => kind);
  });
  expect(kinds).toEqual(['midi-refused', 'midi-missing']);
  expect(errors).toEqual([]);
  await page.close();
});
