import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { failed, type Result } from '../../../core/foundation/result.ts';
import { readStandardMidiFile } from '../../../core/take/standardMidiFile.ts';
import type { Take } from '../../../core/take/take.ts';
import { createFileWork } from '../../../renderer/desk/acts/fileWork.ts';
import { createOpening, type FileReaders } from '../../../renderer/desk/acts/opening.ts';
import type { Asking } from '../../../renderer/desk/asking.ts';
import type { Desk } from '../../../renderer/desk/desk.ts';
import { takeBytes } from '../../tools/takeBytes.ts';
import { deskWithReader } from '../fixtures.ts';

const tune = (...pitches: readonly number[]) =>
  takeBytes({ bpm: 96, click: true, strikes: pitches.map((pitch, i) => [i, pitch] as const) });
const midiFile = (name: string, ...pitches: readonly number[]): File =>
  new File([new Uint8Array(tune(...pitches))], name, { type: 'audio/midi' });

/** Reads at once, as the threads would in the end. */
const AT_ONCE: FileReaders = {
  hear: () => Promise.resolve(undefined),
  midi: ({ bytes, name, options }) => Promise.resolve(readStandardMidiFile(bytes, name, options)),
};

const opener = (desk: Desk, asking: Asking, readers: FileReaders) =>
  createOpening(desk, asking, readers, createFileWork(desk), { opened: () => undefined });

/** Readers that answer when the test says so, and see the signal. */
const byHand = () => {
  const asked: { signal: AbortSignal; answer: (take: Result<Take> | undefined) => void; name: string }[] = [];
  const midi: FileReaders['midi'] = ({ name }, signal) =>
    new Promise(answer => {
      asked.push({ signal, answer, name });
      signal.addEventListener('abort', () => {
        answer(undefined);
      });
    });
  return { asked, readers: { ...AT_ONCE, midi } };
};
const takeOf = (...pitches: readonly number[]): Result<Take> =>
  readStandardMidiFile(tune(...pitches), 'idea.mid', { id: `t${String(pitches[0])}` });

describe('opening a file', () => {
  it('gives a piece under the name of the file', async () => {
    const { desk, asking } = deskWithReader();
    await opener(desk, asking, AT_ONCE).file(midiFile('ferry_bell-2.mid', 72, 74, 76, 77));
    expect(desk.piece.value?.title).toBe('Ferry bell 2');
    expect(desk.piece.value?.take.strikes.map(s => s.pitch)).toEqual([72, 74, 76, 77]);
    expect(desk.work.value).toBeUndefined();
  });

  it('says what is wrong with it, and leaves what is open', async () => {
    const { desk, asking } = deskWithReader();
    const opening = opener(desk, asking, AT_ONCE);
    await opening.file(midiFile('one.mid', 72, 74, 76, 77));
    await opening.file(new File(['no music'], 'two.mid', { type: 'audio/midi' }));
    expect(desk.problem.value?.kind).toBe('not-midi');
    expect(desk.piece.value?.title).toBe('One');
  });
});

describe('opening that takes its time', () => {
  beforeEach(() => {
    vi.useFakeTimers();
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  it('is shown after 300 ms, and no longer when it has ended', async () => {
    const { desk, asking } = deskWithReader();
    const { asked, readers } = byHand();
    const done = opener(desk, asking, readers).file(midiFile('long.mid', 72));
    await vi.advanceTimersByTimeAsync(299);
    expect(desk.work.value).toBeUndefined();
    await vi.advanceTimersByTimeAsync(1);
    expect(desk.work.value).toEqual({ text: 'Opening long.mid', isFile: true });
    asked[0]?.answer(failed({ kind: 'no-notes', what: 'Empty.', kept: '', next: '' }));
    await done;
    expect(desk.work.value).toBeUndefined();
    expect(desk.problem.value?.what).toBe('Empty.');
    expect(vi.getTimerCount()).toBe(0);
  });

  it('can be stopped: nothing is opened, and a line says so', async () => {
    const { desk, asking } = deskWithReader();
    const { asked, readers } = byHand();
    const opening = opener(desk, asking, readers);
    const done = opening.file(midiFile('long.mid', 72));
    await vi.advanceTimersByTimeAsync(400);
    opening.stop();
    await done;
    expect(asked[0]?.signal.aborted).toBe(true);
    expect([desk.piece.value, desk.work.value, desk.problem.value]).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
    expect(desk.notice.value).toBe('Stopped; long.mid was not opened.');
    opening.stop();
    expect(desk.notice.value).toBe('Stopped; long.mid was not opened.');
  });

  it('gives way to another file: the last one asked for is what opens', async () => {
    const { desk, asking } = deskWithReader();
    const { asked, readers } = byHand();
    const opening = opener(desk, asking, readers);
    const first = opening.file(midiFile('first.mid', 72));
    await vi.advanceTimersByTimeAsync(400);
    const second = opening.file(midiFile('second.mid', 74));
    await vi.advanceTimersByTimeAsync(400);
    expect(asked.map(a => [a.name, a.signal.aborted])).toEqual([
      ['first.mid', true],
      ['second.mid', false],
    ]);
    // The first answers late all the same.
    asked[0]?.answer(takeOf(72, 74, 76));
    await first;
    expect(desk.work.value?.text).toBe('Opening second.mid');
    expect(desk.notice.value).toBe('');
    asked[1]?.answer(takeOf(79, 77, 76));
    await vi.advanceTimersByTimeAsync(100);
    await second;
    expect(desk.piece.value?.title).toBe('Second');
    expect(desk.work.value).toBeUndefined();
  });
});
