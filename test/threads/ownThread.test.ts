import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { onOwnThread } from '../../renderer/threads/ownThread.ts';

/** A thread that is driven by hand. */
const fakeThread = () => {
  const target = new EventTarget();
  const asked: unknown[] = [];
  let ended = 0;
  return {
    addEventListener: target.addEventListener.bind(target),
    postMessage: (question: unknown) => {
      asked.push(question);
    },
    terminate: () => {
      ended += 1;
    },
    answer: (data: unknown) => target.dispatchEvent(new MessageEvent('message', { data })),
    break: (message: string) => target.dispatchEvent(Object.assign(new Event('error'), { message })),
    garble: () => target.dispatchEvent(new Event('messageerror')),
    asked,
    ended: () => ended,
  };
};

const asking = (limit = 1000) => {
  const thread = fakeThread();
  const stop = new AbortController();
  const asked = onOwnThread<number>(() => thread, [1, 2], {
    limit,
    signal: stop.signal,
  });
  return { thread, stop, asked };
};

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('a question on a thread of its own', () => {
  it('is asked once, answered, and the thread ends with it', async () => {
    const { thread, asked } = asking();
    expect(thread.asked).toEqual([[1, 2]]);
    expect(thread.ended()).toBe(0);
    thread.answer(3);
    expect(await asked).toEqual({ ok: true, value: 3 });
    expect(thread.ended()).toBe(1);
    expect(vi.getTimerCount()).toBe(0);
  });

  it('is given up at its limit, not before', async () => {
    const { thread, asked } = asking(1000);
    vi.advanceTimersByTime(999);
    expect(vi.getTimerCount()).toBe(1);
    vi.advanceTimersByTime(1);
    expect(await asked).toEqual({ ok: false, why: 'time' });
    expect(thread.ended()).toBe(1);
    thread.answer(3);
    expect(await asked).toEqual({ ok: false, why: 'time' });
  });

  it('is given up when it is stopped; stopped before it began, no thread is started', async () => {
    const { thread, stop, asked } = asking();
    stop.abort();
    expect(await asked).toEqual({ ok: false, why: 'stopped' });
    expect(thread.ended()).toBe(1);
    let started = 0;
    const again = await onOwnThread(
      () => {
        started += 1;
        return fakeThread();
      },
      0,
      { limit: 1, signal: stop.signal },
    );
    expect([again, started]).toEqual([{ ok: false, why: 'stopped' }, 0]);
  });

  it('says that the thread broke, gave nonsense, or could not be started', async () => {
    const broken = asking();
    broken.thread.break('out of memory');
    expect(await broken.asked).toEqual({ ok: false, why: { broke: 'out of memory' } });
    const garbled = asking();
    garbled.thread.garble();
    expect(await garbled.asked).toEqual({ ok: false, why: { broke: 'the answer could not be read' } });
    expect(garbled.thread.ended()).toBe(1);
    const none = await onOwnThread(
      () => {
        throw new Error('no threads here');
      },
      0,
      { limit: 1, signal: new AbortController().signal },
    );
    expect(none).toEqual({ ok: false, why: { broke: 'no threads here' } });
  });
});
