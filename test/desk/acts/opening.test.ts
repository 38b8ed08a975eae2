import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { failed, ok, type Result } from '../../../core/foundation/result.ts';
import type { StruckBar } from '../../../core/hearing/hear.ts';
import { readStandardMidiFile } from '../../../core/take/standardMidiFile.ts';
import type { Take } from '../../../core/take/take.ts';
import { createOpening, type FileReaders } from '../../../renderer/desk/acts/opening.ts';
import { makePitch } from '../../../renderer/desk/commands/corrections.ts';
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
    await createOpening(desk, asking, AT_ONCE).file(midiFile('ferry_bell-2.mid', 72, 74, 76, 77));
    expect(desk.piece.value?.title).toBe('Ferry bell 2');
    expect(desk.piece.value?.take.strikes.map(s => s.pitch)).toEqual([72, 74, 76, 77]);
    expect(desk.work.value).toBeUndefined();
  });

  it('says what is wrong with it, and leaves what is open', async () => {
    const { desk, asking } = deskWithReader();
    const opening = createOpening(desk, asking, AT_ONCE);
    await opening.file(midiFile('one.mid', 72, 74, 76, 77));
    await opening.file(new File(['no music'], 'two.mid', { type: 'audio/midi' }));
    expect(desk.problem.value?.kind).toBe('not-midi');
    expect(desk.piece.value?.title).toBe('One');
  });
});

describe('hearing a recording once more', () => {
  const bar = (at: number, sounding: number) => ({ at, sounding, pitch: sounding, velocity: 90 });
  const wav = new File(['sound'], 'ferry.wav', { type: 'audio/wav' });
  /** What the ear was asked beyond the file, and what it answers each time. */
  const listening = (...answers: readonly (readonly StruckBar[])[]) => {
    const asked: unknown[] = [];
    const hear: FileReaders['hear'] = (_, __, again) => {
      asked.push(again);
      return Promise.resolve(ok(answers[asked.length - 1] ?? []));
    };
    return { asked, readers: { ...AT_ONCE, hear } };
  };
  const four = [84, 86, 88, 89].map((sounding, i) => bar(i * 0.5, sounding));

  it('tells the ear what was put right, and writes what it makes of it, on the same take', async () => {
    const { desk, asking } = deskWithReader();
    const { asked, readers } = listening(four, [four[0], four[1], bar(1, 91), bar(1.5, 91)] as StruckBar[]);
    const opening = createOpening(desk, asking, readers);
    await opening.file(wav);
    const [, , third, fourth] = desk.reading.value?.notes ?? [];
    if (third === undefined || fourth === undefined) throw new Error('four notes');
    expect(desk.canHearAgain.value).toBe(false);
    // A xylophone sounds an octave above what is written.
    desk.run(makePitch, third, 79);
    expect(desk.canHearAgain.value).toBe(true);
    await opening.again();
    expect(asked).toEqual([undefined, { told: [{ at: 1, heard: 88, sounding: 91 }], set: [] }]);
    await vi.waitFor(() => {
      expect(desk.reading.value?.notes.map(note => note.pitch)).toEqual([72, 74, 79, 79]);
    });
    expect(desk.piece.value?.take.strikes.map(strike => strike.pitch)).toEqual([72, 74, 76, 77]);
  });

  it('is not offered for claps, and asks nothing once another piece lies there', async () => {
    const { desk, asking } = deskWithReader();
    const clap = four.map(one => ({ ...one, unpitched: true as const }));
    const { asked, readers } = listening(clap, four);
    const opening = createOpening(desk, asking, readers);
    await opening.file(wav);
    expect(desk.now().live.soundOf).toBeUndefined();
    await opening.file(wav);
    expect(desk.now().live.soundOf).toBe(desk.piece.value?.take.id);
    await opening.file(midiFile('one.mid', 72, 74, 76, 77));
    await opening.again();
    expect(asked).toHaveLength(2);
  });

  it('says so where the recording is gone from the disk, and leaves the page', async () => {
    const { desk, asking } = deskWithReader();
    let times = 0;
    const hear: FileReaders['hear'] = () => {
      times += 1;
      return times === 1 ? Promise.resolve(ok(four)) : Promise.reject(new Error('gone'));
    };
    const opening = createOpening(desk, asking, { ...AT_ONCE, hear });
    await opening.file(wav);
    const [first] = desk.reading.value?.notes ?? [];
    if (first === undefined) throw new Error('four notes');
    desk.run(makePitch, first, 71);
    await opening.again();
    expect(desk.problem.value?.what).toContain('ferry.wav');
    expect(desk.reading.value?.notes.map(note => note.pitch)).toEqual([71, 74, 76, 77]);
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
    const done = createOpening(desk, asking, readers).file(midiFile('long.mid', 72));
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
    const opening = createOpening(desk, asking, readers);
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
    const opening = createOpening(desk, asking, readers);
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
