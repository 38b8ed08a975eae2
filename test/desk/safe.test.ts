import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createSafekeeping } from '../../renderer/desk/acts/safekeeping.ts';
import { restore } from '../../renderer/desk/commands/safe.ts';
import { rehearse } from '../../renderer/desk/commands/rehearsal.ts';
import { goTo, selectNotes, set, setPlay } from '../../renderer/desk/commands/settings.ts';
import { setSends } from '../../renderer/desk/commands/sending.ts';
import { strike } from '../../renderer/desk/commands/playing.ts';
import { step, undoStep } from '../../renderer/desk/commands/step.ts';
import { growNow } from '../../renderer/desk/commands/trial.ts';
import { createDesk } from '../../renderer/desk/desk.ts';
import { fromSafe, toSafe } from '../../renderer/desk/safe.ts';
import { type DeskState, FIRST_DESK } from '../../renderer/desk/state.ts';
import type { DeskRecords } from '../../renderer/storage/deskRecords.ts';
import { after, EMPTY, pieceOn, withPiece } from './pieces.ts';

const retitled = (title: string) => (old: ReturnType<typeof pieceOn>) => ({ ...old, title });
/** As a database gives it back: everything copied, what is shared still shared. */
const throughDisk = (desk: DeskState, clockStart = 0): unknown => structuredClone(toSafe(desk, clockStart));
const busy = (): DeskState => {
  let desk = after(withPiece(), growNow, 'twice', { kind: 'repeat', statement: 's1', times: 2 });
  desk = after(desk, step, 'title', retitled('Bell'));
  desk = after(desk, selectNotes, [2]);
  desk = after(desk, setPlay, { bpm: 66, lifted: [5, 11], mallets: { glockenspiel: 'brass' } });
  desk = after(desk, setSends, { channel: 3, clock: true });
  desk = after(desk, set, { nameStyle: 'american', pupilLanguage: 'de', volume: -20 });
  desk = after(after(desk, goTo, 'grow'), rehearse, true);
  return after(desk, undoStep);
};
const heard = (at: number) =>
  ({ at, pitch: 72, velocity: 80, device: 'pad', name: 'Pad', source: 'midi' }) as const;

describe('what lies on the desk, through the disk and back', () => {
  it('is the same: piece, undo, redo, choice, settings, view', () => {
    const desk = busy();
    const back = fromSafe(FIRST_DESK, throughDisk(desk), 0);
    expect(back?.document).toEqual(desk.document);
    expect(back?.session).toEqual(desk.session);
    const redone = after(back ?? EMPTY, step, 'title', retitled('Again'));
    expect(redone.document.history?.past.length).toBe(2);
  });

  it('a piece that was kept is known as kept, also after undo; one that was not is not', () => {
    const kept = withPiece();
    const changed = after(kept, step, 'title', retitled('Bell'));
    const back = fromSafe(FIRST_DESK, throughDisk(changed), 0) ?? EMPTY;
    expect(back.document.kept).not.toBe(pieceOn(back));
    expect(after(back, undoStep).document.kept).toBe(pieceOn(after(back, undoStep)));
    expect(fromSafe(FIRST_DESK, throughDisk(kept), 0)?.document.kept).toEqual(pieceOn(kept));
  });

  it('strikes keep their time although the clock began anew', () => {
    const desk = after(after(EMPTY, strike, heard(10)), strike, heard(10.5));
    // This window began 60 s after the one that was left.
    const back = fromSafe(FIRST_DESK, throughDisk(desk, 1_000_000), 1_060_000);
    expect(back?.live.memory.strikes.map(s => [s.at, s.held])).toEqual([
      [-50, false],
      [-49.5, false],
    ]);
  });

  it('a strike in doubt keeps what it may have been', () => {
    const desk = after(EMPTY, strike, { ...heard(10), nextBest: 73, perhapsNone: true });
    const back = fromSafe(FIRST_DESK, throughDisk(desk), 0);
    expect(back?.live.memory.strikes.map(s => [s.nextBest, s.perhapsNone])).toEqual([[73, true]]);
  });

  it('a hundred steps of undo at the most, the newest', () => {
    let desk = withPiece();
    for (let k = 0; k < 120; k++) desk = after(desk, step, `title ${String(k)}`, retitled(String(k)));
    const past = fromSafe(FIRST_DESK, throughDisk(desk), 0)?.document.history?.past ?? [];
    expect([past.length, past[0]?.name, past.at(-1)?.name]).toEqual([100, 'title 20', 'title 119']);
  });

  it('one bad part never hides the others', () => {
    const desk = after(busy(), strike, heard(1));
    const spoilt = (spoil: (stored: Record<string, never>) => void): DeskState | undefined => {
      const stored = throughDisk(desk) as Record<string, never>;
      spoil(stored);
      return fromSafe(FIRST_DESK, stored, 0);
    };
    // What was left before it could be chosen what Hear plays.
    const older = spoilt(s => {
      const session = (s as Record<string, unknown>)['session'] as { hear: { what?: string; speed: number } };
      delete session.hear.what;
      session.hear.speed = 70;
      return s;
    });
    expect(older?.session.hear).toMatchObject({ what: 'page', speed: 70 });
    const noSession = spoilt(s => Object.assign(s, { session: { view: 'moon' } }));
    expect([noSession?.session.play.bpm, noSession?.document.history?.present.piece.title]).toEqual([
      FIRST_DESK.session.play.bpm,
      'Idea',
    ]);
    const noMemory = spoilt(s => Object.assign(s, { memory: { strikes: [{ at: 'now' }] } }));
    expect([noMemory?.live.memory.strikes, noMemory?.session.play.bpm]).toEqual([[], 66]);
    const noPiece = spoilt(s => Object.assign(s, { history: { past: [], present: 3, future: [] } }));
    expect([noPiece?.document.history, noPiece?.session.view]).toEqual([undefined, 'play']);
    const oneStep = spoilt(s => {
      const history = (s as unknown as { history: { past: { state: unknown }[]; future: unknown } }).history;
      const [first] = history.past;
      if (first !== undefined) first.state = 'gone';
      history.future = 7;
    });
    expect([oneStep?.document.history?.past, oneStep?.document.history?.future]).toEqual([[], []]);
    expect(oneStep?.document.history?.present.piece.title).toBe('Idea');
  });

  it('whatever stands in the database, the window opens', () => {
    fc.assert(
      fc.property(fc.anything(), anything => {
        expect(fromSafe(FIRST_DESK, anything, 0)).toBeUndefined();
        const record = { version: 1, session: anything, history: anything, memory: anything };
        const back = fromSafe(FIRST_DESK, record, 0);
        expect(back?.document.history).toBeUndefined();
      }),
    );
    const desk = after(EMPTY, restore, { version: 2 }, 0);
    expect(desk).toBe(EMPTY);
  });
});

describe('keeping by itself', () => {
  beforeEach(() => {
    vi.useFakeTimers();
    const events = new EventTarget();
    vi.stubGlobal('window', events);
    vi.stubGlobal('document', Object.assign(new EventTarget(), { visibilityState: 'visible' }));
  });
  afterEach(() => {
    vi.useRealTimers();
    vi.unstubAllGlobals();
  });
  const made = (read: () => Promise<unknown> = () => Promise.resolve(undefined)) => {
    const desk = createDesk(withPiece());
    const written: { title: string | undefined }[] = [];
    let fails = false;
    let slow: (() => void) | undefined;
    const records: DeskRecords = {
      read,
      write: async record => {
        if (fails) throw new Error('QuotaExceededError');
        const { history } = record as ReturnType<typeof toSafe>;
        written.push({ title: history?.present.piece.title });
        if (slow !== undefined)
          await new Promise<void>(go => {
            slow = go;
          });
      },
    };
    return {
      desk,
      written,
      safekeeping: createSafekeeping(desk, records, 0),
      fail: (now: boolean) => {
        fails = now;
      },
      hold: () => {
        slow = () => undefined;
      },
      letGo: () => slow?.(),
    };
  };

  it('every step is on disk within a second, many at once in one write', async () => {
    const { desk, written, safekeeping } = made();
    const end = safekeeping.begin();
    await vi.advanceTimersByTimeAsync(5000);
    expect(written).toEqual([]);
    for (const title of ['A', 'B', 'C']) desk.run(step, 'title', retitled(title));
    expect(desk.safe.value).toBe('soon');
    await vi.advanceTimersByTimeAsync(1000);
    expect([written, desk.safe.value]).toEqual([[{ title: 'C' }], 'safe']);
    // The sign of safety is no change that would have to be kept again.
    await vi.advanceTimersByTimeAsync(5000);
    expect(written.length).toBe(1);
    desk.run(step, 'title', retitled('D'));
    end();
    await vi.advanceTimersByTimeAsync(1000);
    expect(written.map(w => w.title)).toEqual(['C', 'D']);
    desk.run(step, 'title', retitled('E'));
    await vi.advanceTimersByTimeAsync(1000);
    expect(written.length).toBe(2);
  });

  it('what goes on for long is written while it goes on', async () => {
    const { desk, written, safekeeping } = made();
    safekeeping.begin();
    for (let k = 0; k < 30; k++) {
      desk.run(step, 'title', retitled(String(k)));
      await vi.advanceTimersByTimeAsync(100);
    }
    expect(written.length).toBeGreaterThanOrEqual(5);
  });

  it('a slow disk gets the newest next, not all that lie between', async () => {
    const { desk, written, safekeeping, hold, letGo } = made();
    safekeeping.begin();
    hold();
    for (const title of ['A', 'B', 'C', 'D']) {
      desk.run(step, 'title', retitled(title));
      await vi.advanceTimersByTimeAsync(1000);
    }
    expect(written.map(w => w.title)).toEqual(['A']);
    letGo();
    await vi.advanceTimersByTimeAsync(0);
    expect(written.map(w => w.title)).toEqual(['A', 'D']);
    // What is newer is not on disk yet, and the sign does not say so.
    expect(desk.safe.value).toBe('soon');
    letGo();
    await vi.advanceTimersByTimeAsync(0);
    expect(desk.safe.value).toBe('safe');
  });

  it('a full disk is said once, and is safe again when there is room', async () => {
    const { desk, safekeeping, fail } = made();
    safekeeping.begin();
    fail(true);
    desk.run(step, 'title', retitled('A'));
    await vi.advanceTimersByTimeAsync(1000);
    expect([desk.safe.value, desk.problem.value?.kind]).toEqual(['unsafe', 'disk-full']);
    desk.run(step, 'title', retitled('B'));
    await vi.advanceTimersByTimeAsync(1000);
    expect(desk.problem.value).toBeUndefined();
    fail(false);
    await safekeeping.flush();
    expect(desk.safe.value).toBe('safe');
  });

  it('the window that is hidden or closed writes at once', async () => {
    const { desk, written, safekeeping } = made();
    safekeeping.begin();
    desk.run(step, 'title', retitled('A'));
    document.dispatchEvent(new Event('visibilitychange'));
    await vi.advanceTimersByTimeAsync(0);
    expect(written).toEqual([]);
    Object.assign(document, { visibilityState: 'hidden' });
    document.dispatchEvent(new Event('visibilitychange'));
    await vi.advanceTimersByTimeAsync(0);
    expect(written).toEqual([{ title: 'A' }]);
    desk.run(step, 'title', retitled('B'));
    Object.assign(document, { visibilityState: 'visible' });
    window.dispatchEvent(new Event('pagehide'));
    await vi.advanceTimersByTimeAsync(0);
    expect(written.at(-1)).toEqual({ title: 'B' });
  });

  it('takes up what was left, and opens at once where the database does not answer', async () => {
    const left = throughDisk(after(withPiece(), step, 'title', retitled('Left')));
    const { desk, safekeeping } = made(() => Promise.resolve(left));
    await safekeeping.takeUp();
    expect([desk.piece.value?.title, desk.notice.value]).toEqual([
      'Left',
      'Everything is here as it was left.',
    ]);

    const stuck = made(() => new Promise(() => undefined));
    const opened = stuck.safekeeping.takeUp();
    await vi.advanceTimersByTimeAsync(2000);
    await opened;
    const broken = made(() => Promise.reject(new Error('no database')));
    await broken.safekeeping.takeUp();
    expect([stuck.desk.piece.value?.title, broken.desk.problem.value]).toEqual(['Idea', undefined]);
  });
});
