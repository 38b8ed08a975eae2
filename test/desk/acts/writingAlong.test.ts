import { expect, it, vi } from 'vitest';
import { metre } from '../../../core/foundation/metre.ts';
import type { PhraseHeard, WrittenSoFar } from '../../../core/reading/whilePlaying/soFar.ts';
import { writeOn } from '../../../core/reading/whilePlaying/writeOn.ts';
import { createWritingAlong } from '../../../renderer/desk/acts/writingAlong.ts';
import { strike } from '../../../renderer/desk/commands/playing.ts';
import { setPlay } from '../../../renderer/desk/commands/settings.ts';
import { createDesk } from '../../../renderer/desk/desk.ts';

/** A desk on which somebody plays to a click at half a second a beat, and a thread that answers when it is told to. */
const playing = () => {
  const desk = createDesk();
  const open: { heard: PhraseHeard; answer: (so: WrittenSoFar | undefined) => void; so: WrittenSoFar }[] = [];
  let now = 0;
  const along = createWritingAlong(desk, {
    writeOn: (before, heard) =>
      new Promise(answer => {
        open.push({ heard, answer, so: writeOn(before, heard) });
      }),
    click: () => ({ metre: metre(4, 4), beats: Array.from({ length: 20 }, (_, i) => i * 0.5) }),
    now: () => now,
  });
  return {
    desk,
    open,
    along,
    struck: (at: number) => {
      now = at + 0.004;
      desk.run(strike, { at, pitch: 72, velocity: 80, device: 'pad', name: 'Pad 25', source: 'midi' });
      along.struck();
    },
    setNow: (at: number) => {
      now = at;
    },
    /** The thread answers what it was asked last. */
    answers: async (so = open.at(-1)?.so) => {
      open.at(-1)?.answer(so);
      await Promise.resolve();
      await Promise.resolve();
    },
  };
};
const shown = (p: ReturnType<typeof playing>): number =>
  (p.desk.pageSoFar.value?.parts[0]?.bars ?? []).flatMap(b => b.symbols).filter(s => s.pitches.length > 0)
    .length;

it('asks one question at a time; what was struck meanwhile is in the next', async () => {
  const p = playing();
  for (const at of [0, 0.5, 1, 1.5]) p.struck(at);
  expect(p.open).toHaveLength(1);
  expect(p.open[0]?.heard.strikes).toHaveLength(1);
  await p.answers();
  expect(p.open).toHaveLength(2);
  expect(p.open[1]?.heard.strikes.at(-1)?.at).toBe(1.5);
  await p.answers();
  expect(p.open).toHaveLength(2);
  expect(shown(p)).toBe(3);
  p.along.dispose();
});

it('looks again when the beat under way is over, and not after it was left', async () => {
  vi.useFakeTimers();
  try {
    const p = playing();
    p.struck(0);
    await p.answers();
    expect(shown(p)).toBe(0);
    p.setNow(0.5);
    await vi.advanceTimersByTimeAsync(600);
    expect(p.open).toHaveLength(2);
    await p.answers();
    expect(shown(p)).toBe(1);
    // Nothing more to show: nothing more is asked.
    await vi.advanceTimersByTimeAsync(5000);
    expect(p.open).toHaveLength(2);
    p.struck(1);
    await p.answers();
    p.along.dispose();
    await vi.advanceTimersByTimeAsync(5000);
    expect(p.open).toHaveLength(3);
  } finally {
    vi.useRealTimers();
  }
});

it('asks nothing where it is switched off, and goes on where the thread had no answer', async () => {
  const p = playing();
  p.desk.run(setPlay, { writesAlong: false });
  p.struck(0);
  expect(p.open).toHaveLength(0);
  p.desk.run(setPlay, { writesAlong: true });
  p.struck(0.5);
  p.open[0]?.answer(undefined);
  await Promise.resolve();
  await Promise.resolve();
  p.struck(1);
  expect(p.open).toHaveLength(2);
  await p.answers();
  expect(shown(p)).toBe(2);
  p.along.dispose();
});
