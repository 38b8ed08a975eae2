import { build } from 'esbuild';
import { type Browser, chromium, type Page } from 'playwright/test';
import type { Rendition, SoundingEvent } from '../../core/playback/events.ts';
import type { InstrumentId } from '../../core/instruments/instruments.ts';
import type { Sound } from '../../renderer/sound/sound.ts';
import { findQuickChromium } from '../browser.ts';
import type { SoundHarness } from './soundHarness.ts';

declare global {
  var harness: SoundHarness;
  var live: Sound;
}

export const RATE = 48000;

/**
 * A page that holds the sound and nothing else. A real AudioContext runs in it without a device
 * (Chromium's silent output advances its clock).
 */
export const openSoundPage = async (): Promise<{ browser: Browser; page: Page }> => {
  const bundle = await build({
    entryPoints: ['test/e2e/soundHarness.ts'],
    bundle: true,
    write: false,
    format: 'iife',
    target: 'chrome120',
  });
  const executablePath = findQuickChromium();
  const browser = await chromium.launch({
    ...(executablePath === undefined ? {} : { executablePath }),
    args: ['--no-sandbox', '--autoplay-policy=no-user-gesture-required'],
  });
  const page = await browser.newPage();
  await page.route('**/*', route =>
    route.fulfill({ contentType: 'text/html', body: '<!doctype html><title>Sound</title>' }),
  );
  await page.goto('http://localhost/');
  // tsx, under which benchmarks run, wraps every function it meets in a call of this name.
  await page.addScriptTag({ content: 'globalThis.__name = made => made;' });
  await page.addScriptTag({ content: bundle.outputFiles[0]?.text ?? '' });
  return { browser, page };
};

/** Renders in the page and hands the left and right samples back. */
export const renderIn = async (
  page: Page,
  performance: Rendition,
  rate = RATE,
  swells = 0,
): Promise<{ left: Float32Array; right: Float32Array }> => {
  const packed = await page.evaluate(
    async ({ performance, rate, swells }) => {
      harness.sound.setMotor(swells);
      const { left, right } = await harness.sound.renderOffline(performance, rate);
      const pack = (samples: Float32Array): string => {
        const bytes = new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength);
        let text = '';
        for (let i = 0; i < bytes.length; i += 32768)
          text += String.fromCharCode(...bytes.subarray(i, i + 32768));
        return btoa(text);
      };
      return { left: pack(left), right: pack(right) };
    },
    { performance, rate, swells },
  );
  const unpack = (text: string): Float32Array => {
    const bytes = Buffer.from(text, 'base64');
    return new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
  };
  return { left: unpack(packed.left), right: unpack(packed.right) };
};

export const stroke = (
  instrument: InstrumentId,
  pitch: number,
  at: number,
  velocity = 100,
  duration = 0.5,
): SoundingEvent => ({ instrument, pitch, seconds: at, velocity, duration });
