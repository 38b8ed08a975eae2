import { afterEach, expect, it, vi } from 'vitest';
import type { SoundingEvent } from '../../core/playback/events.ts';
import { mixdown } from '../../renderer/sound/mixdown.ts';
import { createStrokes } from '../../renderer/sound/strokes.ts';

/** As much of a browser's AudioBuffer as rendered strokes need (Web Audio API). */
class Buffer {
  readonly length: number;
  private readonly samples: Float32Array;
  constructor({ length }: { readonly length: number }) {
    this.length = length;
    this.samples = new Float32Array(length);
  }
  getChannelData(): Float32Array {
    return this.samples;
  }
}

afterEach(() => {
  vi.unstubAllGlobals();
});

it('a dead stroke is another sound than the same bar left free, and each is made once', () => {
  vi.stubGlobal('AudioBuffer', Buffer);
  const strokes = createStrokes(8000);
  const free = { instrument: 'vibraphone', pitch: 60, velocity: 80 } as const;
  const ringing = strokes.of(free).buffer;
  const dead = strokes.of({ ...free, dead: true }).buffer;
  expect(dead.length).toBeLessThan(ringing.length / 4);
  expect(strokes.of({ ...free, dead: true }).buffer).toBe(dead);
  expect(strokes.of(free).buffer).toBe(ringing);
});

it('every mallet a bar bears is a sound of its own; one it does not bear is the usual one', () => {
  vi.stubGlobal('AudioBuffer', Buffer);
  const strokes = createStrokes(8000);
  const bar = { instrument: 'glockenspiel', pitch: 96, velocity: 80 } as const;
  const usual = strokes.of(bar).buffer;
  expect(strokes.of({ ...bar, mallet: 'hard-plastic' }).buffer).toBe(usual);
  expect(strokes.of({ ...bar, mallet: 'soft-yarn' }).buffer).toBe(usual);
  expect(strokes.of({ ...bar, mallet: 'brass' }).buffer).not.toBe(usual);
  expect(strokes.of({ ...bar, mallet: 'rubber' }).buffer).not.toBe(usual);
});

it('a file has each stroke as its mallet makes it, and a dead one stops at once', () => {
  vi.stubGlobal('AudioBuffer', Buffer);
  const sampleRate = 8000;
  const strokes = createStrokes(sampleRate);
  const event = {
    seconds: 0,
    duration: 1,
    pitch: 72,
    velocity: 80,
    instrument: 'vibraphone',
    rings: true,
  } as const;
  const mixed = (more: Partial<SoundingEvent>): Float32Array =>
    mixdown([{ ...event, ...more }], strokes, { from: 0, length: sampleRate, sampleRate }) ??
    new Float32Array();
  const energy = (samples: Float32Array, from: number): number =>
    samples.slice(from).reduce((sum, x) => sum + x * x, 0);
  // After a fifth of a second nothing is left of a bar on which the mallet stayed (our choice: T60 of 90 ms).
  const late = sampleRate / 5;
  expect(energy(mixed({ dead: true }), late)).toBeLessThan(1e-4 * energy(mixed({}), late));
  // Brighter: more of the difference from one sample to the next, at the same loudness.
  const bright = (samples: Float32Array): number =>
    energy(
      samples.map((x, i) => x - (samples[i - 1] ?? 0)),
      0,
    ) / energy(samples, 0);
  expect(bright(mixed({ mallet: 'hard-plastic' }))).toBeGreaterThan(
    2 * bright(mixed({ mallet: 'soft-yarn' })),
  );
});
