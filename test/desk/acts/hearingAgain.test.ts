import { describe, expect, it, vi } from 'vitest';
import { ok, type Result } from '../../../core/foundation/result.ts';
import type { HeardAgain, Known } from '../../../core/hearing/again.ts';
import type { StruckBar } from '../../../core/hearing/hear.ts';
import { readWav } from '../../../core/hearing/readWav.ts';
import type { Take } from '../../../core/take/take.ts';
import { createFileWork } from '../../../renderer/desk/acts/fileWork.ts';
import {
  createHearingAgain,
  type HearingAgainWorld,
  type SoundAtHand,
} from '../../../renderer/desk/acts/hearingAgain.ts';
import { createOpening } from '../../../renderer/desk/acts/opening.ts';
import { makePitch, takeOut } from '../../../renderer/desk/commands/corrections.ts';
import { onceMore } from '../../../renderer/desk/commands/onceMore.ts';
import { startPiece } from '../../../renderer/desk/commands/open.ts';
import { choosePupil, nextPupil } from '../../../renderer/desk/commands/pupils.ts';
import { setPlay } from '../../../renderer/desk/commands/settings.ts';
import { undoStep } from '../../../renderer/desk/commands/step.ts';
import { deskWithReader } from '../fixtures.ts';

const bar = (at: number, sounding: number): StruckBar => ({ at, sounding, pitch: sounding, velocity: 90 });
const four = [84, 86, 88, 89].map((sounding, i) => bar(i * 0.5, sounding));
const wav = new File(['sound'], 'ferry.wav', { type: 'audio/wav' });
const RATE = 8000;

type Heard = Result<HeardAgain> | undefined;

/** A desk, a room that sounded like this, and an ear that answers what it is given. */
const made = (
  answers: readonly (Heard | (() => Promise<Heard>))[] = [],
  room: readonly StruckBar[] = four,
) => {
  const test = deskWithReader();
  const { desk, asking } = test;
  const asked: { readonly sound: SoundAtHand; readonly known: Known }[] = [];
  const saved: { readonly name: string; readonly bytes: Uint8Array }[] = [];
  const wanted: (readonly [number, number])[] = [];
  const sound = { from: 9, seconds: 60 };
  const world: HearingAgainWorld = {
    hearAgain: async (heard, signal, known) => {
      asked.push({ sound: heard, known });
      const stopped = new Promise<undefined>(done => {
        signal.addEventListener('abort', () => {
          done(undefined);
        });
      });
      const answer = answers[asked.length - 1] ?? ok({ struck: [], out: [] });
      return Promise.race([stopped, typeof answer === 'function' ? answer() : answer]);
    },
    soundOfRoom: (from, to) => {
      wanted.push([from, to]);
      const recording = { rate: RATE, samples: new Float32Array(sound.seconds * RATE).fill(0.25) };
      return Promise.resolve(sound.seconds === 0 ? undefined : { from: sound.from, recording });
    },
    save: (name, bytes) => saved.push({ name, bytes }),
  };
  const work = createFileWork(desk);
  const again = createHearingAgain(desk, asking, work, world);
  const opening = createOpening(
    desk,
    asking,
    { hear: () => Promise.resolve(ok(room)), midi: () => Promise.resolve(undefined) },
    work,
    again,
  );
  const noteAt = (place: number) => {
    const note = desk.reading.value?.notes[place];
    if (note === undefined) throw new Error('no such note');
    return note;
  };
  return { ...test, asked, saved, wanted, sound, again, opening, work, noteAt };
};

/** Caught from bars in the room: its clock is 0 at 10 on that of input. */
const caught = (id = 't', source: Take['source'] = 'microphone'): Take => ({
  id,
  capturedAt: '2026-01-01T00:00:00.000Z',
  source,
  from: 'Bars in the room',
  latency: 0,
  lengthsMean: false,
  strikes: [72, 74, 76, 77].map((pitch, i) => ({ at: i * 0.5, pitch, velocity: 90 })),
});
const ZERO = 10;
const catching = async (take = caught(), test = made()) => {
  await test.asking.ask(startPiece, { take, title: 'Idea', id: 'p', pupil: undefined });
  await test.again.caught(take, ZERO);
  return test;
};
const pitches = ({ desk }: ReturnType<typeof made>) => desk.reading.value?.notes.map(note => note.pitch);

describe('a recording heard once more', () => {
  it('the ear is told what was put right, and what it makes of it is written, on the same take', async () => {
    const test = made([ok({ struck: [...four.slice(0, 2), bar(1, 91), bar(1.5, 91)], out: [] })]);
    const { desk, opening, again, asked, noteAt } = test;
    await opening.file(wav);
    expect([desk.canHearAgain.value, desk.canKeepSound.value]).toEqual([false, false]);
    // A xylophone sounds an octave above what is written.
    desk.run(makePitch, noteAt(2), 79);
    expect(desk.canHearAgain.value).toBe(true);
    await again.again();
    expect(asked).toEqual([{ sound: wav, known: { told: [{ at: 1, heard: 88, sounding: 91 }], set: [] } }]);
    await vi.waitFor(() => {
      expect(pitches(test)).toEqual([72, 74, 79, 79]);
    });
    expect(desk.piece.value?.take.strikes.map(strike => strike.pitch)).toEqual([72, 74, 76, 77]);
  });

  it('what the ear put right is not told to it as if a hand had', async () => {
    const answer = ok({ struck: [bar(0, 84), bar(0.5, 86), bar(1, 91), bar(1.5, 91)], out: [] });
    const test = made([answer, answer]);
    await test.opening.file(wav);
    test.desk.run(makePitch, test.noteAt(2), 79);
    await test.again.again();
    await vi.waitFor(() => {
      expect(pitches(test)).toEqual([72, 74, 79, 79]);
    });
    await test.again.again();
    expect(test.asked[1]?.known.told).toEqual(test.asked[0]?.known.told);
    await test.settled();
    expect(test.desk.notice.value).toBe('Heard again: nothing else is on another bar.');
  });

  it('claps have no bars to be heard better; another piece is not asked about', async () => {
    const test = made(
      [],
      four.map(one => ({ ...one, unpitched: true as const })),
    );
    await test.opening.file(wav);
    expect(test.desk.now().live.soundOf).toBeUndefined();
    const other = made();
    await other.opening.file(wav);
    expect(other.desk.now().live.soundOf).toEqual({
      take: other.desk.piece.value?.take.id,
      isOnlyHere: false,
    });
    await catching(caught(), other);
    other.desk.run(makePitch, other.noteAt(0), 71);
    await other.again.again();
    expect(other.asked.map(one => one.sound instanceof File)).toEqual([false]);
  });

  it('stopped: it says that the page is as it was, and nothing of opening', async () => {
    const test = made([() => new Promise(() => undefined)]);
    await test.opening.file(wav);
    test.desk.run(makePitch, test.noteAt(2), 79);
    const done = test.again.again();
    test.opening.stop();
    await done;
    expect(test.desk.notice.value).toBe('Stopped: the page is as it was.');
    expect(pitches(test)).toEqual([72, 74, 79, 77]);
  });

  it('says so where the recording is gone from the disk, and leaves the page', async () => {
    const test = made([() => Promise.reject(new Error('gone'))]);
    await test.opening.file(wav);
    test.desk.run(makePitch, test.noteAt(0), 71);
    await test.again.again();
    expect(test.desk.problem.value?.what).toContain('ferry.wav');
    expect(pitches(test)).toEqual([71, 74, 76, 77]);
  });

  it('after a reload it can be wished for still, and a sentence says that it is not at hand', async () => {
    const test = made();
    const take: Take = { ...caught(), source: 'file', from: 'ferry.wav' };
    await test.asking.ask(startPiece, { take, title: 'Ferry', id: 'p', pupil: undefined });
    expect(test.desk.canHearAgain.value).toBe(false);
    test.desk.run(makePitch, test.noteAt(0), 71);
    expect(test.desk.canHearAgain.value).toBe(true);
    await test.again.again();
    expect(test.desk.problem.value?.what).toContain('ferry.wav is not at hand any more');
    expect([test.asked, pitches(test)]).toEqual([[], [71, 74, 76, 77]]);
  });

  it('is not offered for what was never heard', async () => {
    for (const take of [caught('m', 'midi'), { ...caught('f', 'file'), from: 'ferry.MID' }]) {
      const test = await catching(take);
      test.desk.run(makePitch, test.noteAt(0), 71);
      expect(test.desk.canHearAgain.value).toBe(false);
      expect(test.wanted).toEqual([]);
    }
  });
});

describe('the sound of what was caught in the room', () => {
  it('is cut to the idea, with the room before and the ring after, and heard again on its clock', async () => {
    // The sound begins at 9 on the clock of input, a second before the take.
    const answer = ok({ struck: [bar(1, 84), bar(1.5, 86), bar(2.02, 91), bar(2.5, 91)], out: [] });
    const test = await catching(caught(), made([answer]));
    expect(test.wanted).toEqual([[ZERO - 2, ZERO + 3]]);
    test.desk.run(makePitch, test.noteAt(2), 79);
    expect(test.desk.canHearAgain.value).toBe(true);
    await test.again.again();
    expect(test.asked[0]?.known.told).toEqual([{ at: 2, heard: 88, sounding: 91 }]);
    await vi.waitFor(() => {
      expect(pitches(test)).toEqual([72, 74, 79, 79]);
    });
  });

  it('changes nothing where what it was told was taken back meanwhile', async () => {
    const test = await catching(caught(), made([ok({ struck: [bar(2.02, 91)], out: [] })]));
    test.desk.run(makePitch, test.noteAt(2), 79);
    const listening = test.again.again();
    test.desk.run(undoStep);
    await listening;
    expect(pitches(test)).toEqual([72, 74, 76, 77]);
    expect(test.desk.problem.value?.next).toBe('Press Listen again once more.');
  });

  it('leaves a note that is not heard now, and takes out one that is known to be none', async () => {
    const test = await catching(
      caught(),
      made([ok({ struck: [bar(1, 84), bar(1.5, 86)], out: [bar(2.5, 89)] })]),
    );
    test.desk.run(makePitch, test.noteAt(1), 75);
    await test.again.again();
    await vi.waitFor(() => {
      expect(pitches(test)).toEqual([72, 75, 76]);
    });
  });

  it('is kept only by who wants it, as a WAV file of just that sound', async () => {
    const test = await catching();
    expect([test.desk.canKeepSound.value, test.saved]).toEqual([true, []]);
    test.again.keep();
    const [file] = test.saved;
    expect(file?.name).toBe('Idea-as-struck.wav');
    const read = readWav(file?.bytes ?? new Uint8Array(0), 'a.wav');
    expect(read.ok && [read.value.rate, read.value.samples.length]).toEqual([RATE, 60 * RATE]);
  });

  it.each([
    ['the next pupil', (test: ReturnType<typeof made>) => test.desk.run(nextPupil)],
    [
      'another pupil',
      (test: ReturnType<typeof made>) => test.desk.run(choosePupil, { className: '8B', codeName: 'Heron' }),
    ],
    ['another idea', (test: ReturnType<typeof made>) => catching(caught('u', 'midi'), test)],
  ])('goes with the idea: %s', async (_, close) => {
    const test = await catching();
    const take = test.desk.now().live.soundOf;
    expect(take).toEqual({ take: 't', isOnlyHere: true });
    await close(test);
    expect(test.desk.now().live.soundOf).toBeUndefined();
    // Not even who opens the same idea again has it.
    await test.asking.ask(startPiece, {
      take: caught(),
      title: 'Idea',
      id: 'q',
      pupil: test.desk.pupil.value,
    });
    expect(test.desk.canKeepSound.value).toBe(false);
    test.again.keep();
    expect(test.saved).toEqual([]);
    test.desk.run(makePitch, test.noteAt(0), 71);
    await test.again.again();
    expect(test.desk.problem.value?.what).toContain('is not here');
    expect(test.asked).toEqual([]);
  });

  it('is not taken where it has not all of the idea, or nothing is remembered, or it is not on the desk', async () => {
    for (const [from, seconds] of [
      [9.95, 60],
      [9, 3],
      [9, 0],
    ] as const) {
      const test = made();
      Object.assign(test.sound, { from, seconds });
      await catching(caught(), test);
      expect([from, seconds, test.desk.now().live.soundOf]).toEqual([from, seconds, undefined]);
    }
    const test = made();
    await test.again.caught(caught(), ZERO);
    expect(test.desk.now().live.soundOf).toBeUndefined();
  });

  it('is not of what was played once more: those strikes are not in it', async () => {
    const test = await catching();
    await test.asking.ask(onceMore, {
      ...caught('v'),
      strikes: caught().strikes.map((s, i) => ({ ...s, at: s.at + 0.01 * (i % 2) })),
    });
    expect(test.desk.piece.value?.take.strikes.length).toBeGreaterThan(4);
    expect(test.desk.canKeepSound.value).toBe(false);
    test.desk.run(takeOut, test.noteAt(0));
    await test.again.again();
    expect(test.asked).toEqual([]);
  });

  it('is heard with the bars of the instrument that stood in the room', async () => {
    const test = made();
    // A marimba sounds as it is written.
    test.desk.run(setPlay, { instrument: 'marimba' });
    await catching(caught(), test);
    test.desk.run(makePitch, test.noteAt(2), 79);
    await test.again.again();
    expect(test.asked[0]?.known.told).toEqual([{ at: 2, heard: 76, sounding: 79 }]);
  });
});
