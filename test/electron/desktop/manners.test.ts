import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { askWhenHanging, type Hangable } from '../../../electron/desktop/hanging.ts';
import { createGivenFiles, filesAmong, MOST_GIVEN } from '../../../electron/desktop/givenFiles.ts';
import { createLog, MOST_LOG_BYTES, withoutContent } from '../../../electron/desktop/log.ts';
import {
  LEAST_HEIGHT,
  LEAST_WIDTH,
  placeFor,
  readWindowPlace,
  type Rectangle,
  writeWindowPlace,
} from '../../../electron/desktop/windowPlace.ts';
import { reviveWhenGone, MOST_RETURNS, type Recoverable } from '../../../electron/desktop/recovery.ts';

describe('a page whose process is gone', () => {
  const dying = () => {
    const loaded: string[] = [];
    const given: string[] = [];
    const handlers: ((event: unknown, details: { reason: string }) => void)[] = [];
    const window: Recoverable = {
      webContents: { on: (_, handler) => handlers.push(handler) },
      loadURL: address => {
        loaded.push(address);
        return Promise.reject(new Error('it died while it loaded'));
      },
    };
    reviveWhenGone(window, 'app://malletloom/index.html', reason => given.push(reason));
    const die = (reason: string): void => {
      for (const handler of handlers) handler({}, { reason });
    };
    return { loaded, given, die };
  };
  it('comes back; one that was closed on purpose does not', () => {
    const { loaded, given, die } = dying();
    die('clean-exit');
    expect(loaded).toEqual([]);
    die('oom');
    expect([loaded, given]).toEqual([['app://malletloom/index.html'], []]);
  });
  it('is given up, and said so, when it dies again and again', () => {
    const { loaded, given, die } = dying();
    for (let i = 0; i <= MOST_RETURNS; i++) die('crashed');
    expect([loaded.length, given]).toEqual([MOST_RETURNS, ['crashed']]);
  });
});

describe('a page that stands still', () => {
  const hanging = (answers: readonly boolean[]) => {
    const seen = { asked: 0, ended: 0 };
    let notice: () => void = () => undefined;
    const window: Hangable = {
      on: (_, handler) => {
        notice = handler;
      },
      webContents: {
        forcefullyCrashRenderer: () => {
          seen.ended += 1;
        },
      },
    };
    const waiting: ((end: boolean) => void)[] = [];
    askWhenHanging(window, () => {
      seen.asked += 1;
      return new Promise(resolve => waiting.push(resolve));
    });
    const answer = async (): Promise<void> => {
      waiting.shift()?.(answers[seen.asked - 1] ?? false);
      await new Promise(setImmediate);
    };
    return {
      seen,
      notice: () => {
        notice();
      },
      answer,
    };
  };
  it('is asked about once, however often it is noticed, and again the next time', async () => {
    const { seen, notice, answer } = hanging([false, true]);
    notice();
    notice();
    expect(seen).toEqual({ asked: 1, ended: 0 });
    await answer();
    expect(seen).toEqual({ asked: 1, ended: 0 });
    notice();
    await answer();
    expect(seen).toEqual({ asked: 2, ended: 1 });
  });
});

describe('on a disk', () => {
  let folder = '';
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'malletloom-manners-'));
  });
  afterEach(() => {
    rmSync(folder, { recursive: true, force: true });
  });
  const put = (name: string, bytes: Uint8Array | string): string => {
    writeFileSync(join(folder, name), bytes);
    return join(folder, name);
  };

  describe('files that were given', () => {
    it('are taken once each, in order, and one that is no good does not hide the next', async () => {
      const told: number[] = [];
      const files = createGivenFiles(() => told.push(1));
      mkdirSync(join(folder, 'folder.mid'));
      files.give([
        put('a.mid', 'one'),
        join(folder, 'gone.mid'),
        join(folder, 'folder.mid'),
        put('b.malletloom', 'two'),
      ]);
      expect(told).toHaveLength(1);
      expect(await files.take()).toEqual({
        ok: true,
        value: { name: 'a.mid', bytes: new TextEncoder().encode('one') },
      });
      expect(await files.take()).toMatchObject({
        ok: false,
        problem: { what: 'gone.mid could not be read.' },
      });
      expect(await files.take()).toMatchObject({ ok: false, problem: { what: 'folder.mid is no file.' } });
      expect(await files.take()).toMatchObject({ ok: true, value: { name: 'b.malletloom' } });
      expect(await files.take()).toEqual({ ok: true, value: undefined });
    });
    it('are files that can be opened, whatever asks: nothing else on the disk is read', async () => {
      const files = createGivenFiles(() => undefined);
      files.give([put('diary.txt', 'private')]);
      expect(await files.take()).toMatchObject({ ok: false, problem: { kind: 'not-found' } });
    });
    it('are few: a whole folder that was chosen by mistake does not open a hundred pieces', async () => {
      const files = createGivenFiles(() => undefined);
      files.give(Array.from({ length: 100 }, (_, i) => put(`${String(i)}.mid`, 'x')));
      let taken = 0;
      for (let next = await files.take(); next.ok && next.value !== undefined; next = await files.take())
        taken += 1;
      expect(taken).toBe(MOST_GIVEN);
    });
  });

  it('a log keeps kinds and places, and nothing anybody wrote', () => {
    const log = createLog(join(folder, 'log', 'a.log'), () => '2026-01-02T03:04:05Z');
    log.note('start 1.0');
    log.note('two\nlines é');
    const thrown = Object.assign(new TypeError('Heron’s piece in /home/jo/Documents'), { code: 'ENOENT' });
    log.thrown('start', thrown);
    const text = readFileSync(join(folder, 'log', 'a.log'), 'utf8');
    const lines = text.trimEnd().split('\n');
    expect(lines.slice(0, 2)).toEqual(['2026-01-02T03:04:05Z start 1.0', '2026-01-02T03:04:05Z two lines']);
    expect(lines[2]).toMatch(/^2026-01-02T03:04:05Z start: TypeError ENOENT manners\.test\.ts:\d+:\d+/);
    expect(text).not.toMatch(/Heron|home|Documents|\/work/);
    expect(withoutContent('a string somebody threw')).toBe('string');
  });
  it('a log stays small, and one that cannot be written stops nobody', () => {
    const file = join(folder, 'b.log');
    const log = createLog(file, () => '2026-01-02T03:04:05Z');
    for (let i = 0; i < 3; i++) {
      writeFileSync(file, 'x'.repeat(MOST_LOG_BYTES + 1));
      log.note('after');
      expect(readFileSync(file, 'utf8')).toBe('2026-01-02T03:04:05Z after\n');
      expect(statSync(`${file}.1`).size).toBe(MOST_LOG_BYTES + 1);
    }
    put('plain', 'a file where the folder should be');
    expect(() => {
      createLog(join(folder, 'plain', 'c.log'), () => '').note('lost');
    }).not.toThrow();
    expect(existsSync(join(folder, 'plain', 'c.log'))).toBe(false);
  });

  it('the place of the window is remembered whole, and nonsense is no place', () => {
    const file = join(folder, 'window.json');
    const place = { x: 40, y: 20, width: 1300, height: 800, isMaximized: true };
    expect(readWindowPlace(file)).toBeUndefined();
    writeWindowPlace(file, place);
    expect(readWindowPlace(file)).toEqual(place);
    for (const wrong of [
      '',
      '{"x":4',
      '[]',
      '{"x":1e9,"y":0,"width":5,"height":5,"isMaximized":false}',
      '{"x":0,"y":0,"width":0,"height":5,"isMaximized":false}',
    ]) {
      writeFileSync(file, wrong);
      expect(readWindowPlace(file), wrong).toBeUndefined();
    }
    writeWindowPlace(join(folder, 'nowhere', 'window.json'), place);
    expect(existsSync(join(folder, 'nowhere'))).toBe(false);
  });
});

describe('files among what a program was started with', () => {
  it.each<[readonly string[], readonly string[]]>([
    [['/work/malletloom'], []],
    [['--user-data-dir=/tmp/a.mid', '-x.mid'], []],
    [
      ['Tin roof.MID', 'take.wav', '/b/8K.malletloom'],
      ['/c/Tin roof.MID', '/c/take.wav', '/b/8K.malletloom'],
    ],
    [
      ['file:///b/Tin%20roof.mid', 'file:///b/%E0.mid', 'file:///b/notes.txt'],
      ['/b/Tin roof.mid', '/c/file:/b/%E0.mid'],
    ],
    [['notes.txt', 'a.mid.exe', 'mid', '.mid'], []],
  ])('%j', (given, files) => {
    expect(filesAmong(given, '/c')).toEqual(files);
  });
});

describe('where the window opens', () => {
  const main = { x: 0, y: 0, width: 1366, height: 728 };
  const projector = { x: 1366, y: 0, width: 1920, height: 1080 };
  const left = { x: 1500, y: 100, width: 1400, height: 900, isMaximized: false };
  it('where it was left; on the main screen when that one is gone', () => {
    expect(placeFor(left, [main, projector])).toEqual(left);
    expect(placeFor(left, [main])).toEqual({ width: 1366, height: 728, isMaximized: false });
  });
  it('keeps a screen filled', () => {
    expect(placeFor({ ...left, isMaximized: true }, [main, projector]).isMaximized).toBe(true);
  });
  const side = fc.integer({ min: -4000, max: 4000 });
  const size = fc.integer({ min: 1, max: 6000 });
  const rectangle = fc.record({ x: side, y: side, width: size, height: size });
  const head = (place: Rectangle): Rectangle => ({ ...place, height: 1 });
  const meet = (a: Rectangle, b: Rectangle): boolean =>
    a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
  it('always so that its head can be seen, and large enough for every place', () => {
    fc.assert(
      fc.property(
        rectangle,
        fc.boolean(),
        fc.array(rectangle, { minLength: 1, maxLength: 3 }),
        (was, isMaximized, screens) => {
          const place = placeFor({ ...was, isMaximized }, screens);
          expect(place.width).toBeGreaterThanOrEqual(LEAST_WIDTH);
          expect(place.height).toBeGreaterThanOrEqual(LEAST_HEIGHT);
          if (place.x === undefined || place.y === undefined) return;
          const { x, y, width, height } = place;
          expect(screens.some(screen => meet(head({ x, y, width, height }), screen))).toBe(true);
        },
      ),
    );
  });
});
