import { signal } from '@preact/signals';
import { describe, expect, it, vi } from 'vitest';
import { finish, type Sliced } from '../../core/foundation/sliced.ts';
import { corrected, type Piece, readingScore, readingScoreInSlices } from '../../core/piece/piece.ts';
import type { Edit } from '../../core/piece/edit.ts';
import { edit } from '../../renderer/desk/commands/step.ts';
import { openEntry } from '../../renderer/desk/commands/open.ts';
import { createDesk } from '../../renderer/desk/desk.ts';
import { doInSlices, type SliceTime, workedOut } from '../../renderer/desk/inSlices.ts';
import { pieceOf, takeOf, withPiece } from './pieces.ts';

/** A clock that each look at it moves on, and turns that come when they are asked for. */
const handTime = (msALook: number): SliceTime & { turn: () => boolean; waiting: () => number } => {
  let now = 0;
  let waiting: { readonly go: () => void }[] = [];
  return {
    now: () => (now += msALook),
    later: go => {
      const turn = { go };
      waiting.push(turn);
      return () => {
        waiting = waiting.filter(other => other !== turn);
      };
    },
    turn: () => {
      const next = waiting.shift();
      next?.go();
      return next !== undefined;
    },
    waiting: () => waiting.length,
  };
};

/** So many slices, each written down. */
function* work<T>(slices: number, result: T, done: T[] = []): Sliced<T> {
  for (let i = 0; i < slices; i++) {
    done.push(result);
    yield undefined;
  }
  return result;
}

const fail = (thrown: unknown): never => {
  throw thrown;
};

/** Work that throws in its third slice. */
function* faulty(): Sliced<string> {
  yield undefined;
  yield undefined;
  throw new RangeError('no such bar');
}

describe('long work in slices', () => {
  it('that throws ends there, and whoever asked for it is told', () => {
    const time = handTime(20);
    const told: unknown[] = [];
    doInSlices(faulty(), { done: fail, broke: thrown => told.push(thrown) }, time);
    while (time.turn());
    expect(told).toEqual([new RangeError('no such bar')]);
  });

  it('never goes on for more than 12 ms before others have their turn', () => {
    const time = handTime(5);
    const steps: string[] = [];
    const found: string[] = [];
    doInSlices(work(7, 'page', steps), { done: result => found.push(result), broke: fail }, time);
    expect(steps).toEqual([]);
    const counts: number[] = [];
    while (time.turn()) counts.push(steps.length);
    // A look at the clock is 5 ms: three slices are over 12.
    expect(counts).toEqual([3, 6, 7]);
    expect(found).toEqual(['page']);
  });

  it('ends without a result once it is given up', () => {
    const time = handTime(20);
    const found: string[] = [];
    const giveUp = doInSlices(work(5, 'page'), { done: result => found.push(result), broke: fail }, time);
    time.turn();
    time.turn();
    giveUp();
    expect([time.turn(), found]).toEqual([false, []]);
  });
});

describe('what is worked out', () => {
  const make = () => {
    const time = handTime(20);
    const from = signal<number | undefined>(undefined);
    const begun: number[] = [];
    const seen = workedOut(
      () => from.value,
      size => {
        begun.push(size);
        return work(size, `page of ${String(size)}`);
      },
      size => size > 10,
      time,
    );
    const turns = (most = Infinity): number => {
      let count = 0;
      while (count < most && time.turn()) count++;
      return count;
    };
    return { from, seen, begun, turns, waiting: time.waiting };
  };

  it('is there at once where it is short', () => {
    const { from, seen, turns } = make();
    expect(seen.value).toBeUndefined();
    from.value = 3;
    expect(seen.value).toEqual({ from: 3, result: 'page of 3' });
    expect(turns()).toBe(0);
  });

  it('is there later where it is long, worked out once, and until then what was before', () => {
    const { from, seen, begun, turns } = make();
    from.value = 11;
    expect(seen.value).toBeUndefined();
    expect(turns()).toBeGreaterThan(10);
    expect(seen.value).toEqual({ from: 11, result: 'page of 11' });
    from.value = 12;
    expect(seen.value?.from).toBe(11);
    turns(5);
    expect(seen.value?.from).toBe(11);
    turns();
    expect(seen.value?.from).toBe(12);
    from.value = 3;
    expect(seen.value?.from).toBe(3);
    // Still known.
    from.value = 12;
    expect([seen.value?.from, turns(), begun]).toEqual([12, 0, [11, 12, 3]]);
  });

  it('throws to whoever reads it what its work threw, and is there again when it is asked for something else', () => {
    const time = handTime(20);
    const from = signal(20);
    const seen = workedOut(
      () => from.value,
      size => (size === 20 ? faulty() : work(size, 'page')),
      size => size > 10,
      time,
    );
    expect(seen.value).toBeUndefined();
    while (time.turn());
    expect(() => seen.value).toThrow('no such bar');
    from.value = 3;
    expect(seen.value).toEqual({ from: 3, result: 'page' });
    from.value = 11;
    seen.peek();
    while (time.turn());
    expect(seen.value?.from).toBe(11);
  });

  it('gives up what is no longer asked for, and begins again when it is', () => {
    for (const between of [undefined, 3, 20]) {
      const { from, seen, begun, turns, waiting } = make();
      from.value = 11;
      seen.peek();
      turns(4);
      from.value = between;
      seen.peek();
      expect(waiting()).toBe(between === 20 ? 1 : 0);
      from.value = 11;
      seen.peek();
      expect(waiting()).toBe(1);
      turns();
      expect(seen.value?.result).toBe('page of 11');
      expect(begun.filter(size => size === 11)).toHaveLength(2);
    }
  });
});

describe('the page of Write', () => {
  const LONG = takeOf(
    'long',
    Array.from({ length: 640 }, (_, i) => i),
    Array.from({ length: 640 }, (_, i) => 72 + ((i * 7) % 12)),
    160,
  );

  it('is written out a bar at a time, the same page', () => {
    const piece = pieceOf(LONG);
    const sliced = readingScoreInSlices(piece);
    let slices = 0;
    while (sliced.next().done !== true) slices++;
    expect(slices).toBe(160);
    expect(finish(readingScoreInSlices(piece))).toEqual(readingScore(piece));
  });

  it('of a long piece comes a little later, and what is heard is right at once', async () => {
    const desk = createDesk(withPiece(pieceOf(LONG)));
    expect(desk.writePage.value).toBeUndefined();
    expect(desk.writeScore.value).toEqual(readingScore(pieceOf(LONG)));
    await new Promise<void>(resolve => {
      const unfollow = desk.writePage.subscribe(page => {
        if (page === undefined) return;
        resolve();
        queueMicrotask(() => {
          unfollow();
        });
      });
    });
    expect(desk.writePage.value?.score).toEqual(readingScore(pieceOf(LONG)));
    // Another piece never shows this one's page.
    const other = pieceOf();
    desk.run(openEntry, { id: other.id, revision: 'r1', piece: other });
    expect(desk.writePage.value?.piece.id).toBe(other.id);
    const longOther = pieceOf({ ...LONG, id: 'other' });
    desk.run(openEntry, { id: longOther.id, revision: 'r1', piece: longOther });
    expect(desk.writePage.value).toBeUndefined();
  });

  it('of a long piece shows, until it is written out anew, the page before with its own corrections', async () => {
    const pitch = (note: number): Edit => ({ kind: 'pitch', note, pitch: 61 });
    const desk = createDesk(withPiece({ ...pieceOf(LONG), edits: [pitch(1)] }));
    const pitches = (): unknown => desk.writePage.value?.reading.notes.slice(0, 3).map(n => n.pitch);
    await vi.waitFor(() => {
      expect(pitches()).toEqual([72, 61, 74]);
    });
    desk.run(edit, 'another pitch', pitch(2));
    expect(pitches()).toEqual([72, 61, 74]);
    await vi.waitFor(() => {
      expect(pitches()).toEqual([72, 61, 61]);
    });
  });

  it('of a short piece is there at once, with the reading it shows', () => {
    const piece: Piece = { ...pieceOf(), edits: [{ kind: 'pitch', note: 1, pitch: 73 }] };
    const page = createDesk(withPiece(piece)).writePage.value;
    expect([page?.piece, page?.reading, page?.score]).toEqual([piece, corrected(piece), readingScore(piece)]);
    expect(page?.reading.notes[1]?.pitch).toBe(73);
  });
});
