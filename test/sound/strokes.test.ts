import { afterEach, expect, it, vi } from 'vitest';
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
