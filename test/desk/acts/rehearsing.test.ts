import { describe, expect, it } from 'vitest';
import { createListening } from '../../../renderer/desk/acts/listening.ts';
import { createRehearsing } from '../../../renderer/desk/acts/rehearsing.ts';
import { createStriking } from '../../../renderer/desk/acts/striking.ts';
import { caughtIn, phrasesIn, setDevices, setLateness } from '../../../renderer/desk/commands/playing.ts';
import { givePlayer, practise, rehearse, setRehearsal } from '../../../renderer/desk/commands/rehearsal.ts';
import { goTo } from '../../../renderer/desk/commands/settings.ts';
import { changePlan } from '../../../renderer/desk/commands/trial.ts';
import { addPart } from '../../../core/plan/change.ts';
import { undoStep } from '../../../renderer/desk/commands/step.ts';
import { deskWithPiece } from '../fixtures.ts';
import { fakeSound } from './fakeSound.ts';

const tick = async (): Promise<void> => {
  for (let i = 0; i < 4; i++) await Promise.resolve();
};
const by = (name: string) => ({ id: name, name, source: 'midi' }) as const;

/** Four crotchets up from C5 at 120 in Grow; strikes are given in seconds after the first beat of the music. */
const made = async () => {
  const { desk, asking } = await deskWithPiece();
  const fake = fakeSound();
  const listening = createListening(fake.sound, desk);
  let now = 100;
  const rehearsing = createRehearsing(desk, listening, () => now);
  const striking = createStriking(fake.sound, desk, asking, struck => {
    rehearsing.strike(struck);
  });
  desk.run(goTo, 'grow');
  desk.run(rehearse, true);
  /** Begins; the first beat counted is heard at 10 s. */
  const start = async (): Promise<number> => {
    rehearsing.start();
    await tick();
    const played = fake.played.at(-1);
    if (played === undefined) throw new Error('nothing is played');
    played.startedAt = 10;
    return 10 + 2 / (played.options.rate ?? 1);
  };
  const strike = (at: number, pitch: number, name = 'Pad'): void => {
    striking.strike({ at, pitch, velocity: 90, by: by(name) });
  };
  return {
    desk,
    ...fake,
    listening,
    rehearsing,
    start,
    strike,
    at: (time: number) => {
      now = time;
    },
    end: () => fake.played.at(-1)?.options.onEnd?.(),
    kinds: (part = 0) => desk.rehearsed.value?.parts[part]?.noticed.map(one => one.kind),
  };
};

describe('playing along', () => {
  it.each([40, 80, 120])('at %i per cent: struck exactly, everything is in its place', async speed => {
    const { desk, start, strike, end, kinds, played, at } = await made();
    desk.run(setRehearsal, { speed });
    const first = await start();
    expect(played[0]?.options.rate).toBe(speed / 100);
    [0, 1, 2, 3].forEach(i => {
      strike(first + (i * 0.5) / (speed / 100), 72 + i);
    });
    at(first + 2.7 / (speed / 100));
    end();
    expect(kinds()).toEqual(['in place', 'in place', 'in place', 'in place']);
    expect(desk.rehearsed.value?.parts[0]?.said.sentence).toBe('Every stroke was in its place.');
  });

  it('the lateness of the device is taken off, each its own', async () => {
    const { desk, start, strike, end, at } = await made();
    desk.run(setRehearsal, { speed: 100 });
    desk.run(setLateness, 'Pad', { late: 45, spread: 3, strikes: 20 });
    const first = await start();
    [0, 1, 2, 3].forEach(i => {
      strike(first + i * 0.5 + 0.045 + (i === 2 ? 0.06 : 0), 72 + i);
    });
    at(first + 2.6);
    end();
    const offs = desk.rehearsed.value?.parts[0]?.noticed.map(one =>
      'off' in one ? Math.round(one.off) : one.kind,
    );
    expect(offs).toEqual([0, 0, 60, 0]);
    expect(desk.rehearsed.value?.parts[0]?.said.sentence).toBe('Bar 1: one stroke late.');
  });

  it('own part left out sounds as its own instrument when it is struck; the click counts a bar', async () => {
    const { desk, start, strike, played, order } = await made();
    const first = await start();
    expect(played[0]?.performance.events).toEqual([]);
    expect(played[0]?.options.click?.beats.slice(0, 5)).toEqual([0, 0.5, 1, 1.5, 2]);
    strike(first, 72);
    expect(order).toContain('strike xylophone 84');
    desk.run(setRehearsal, { own: 'as written', click: false });
    await start();
    expect(played.at(-1)?.performance.events).toHaveLength(4);
    expect(played.at(-1)?.options.click?.beats).toEqual([0, 0.5, 1, 1.5]);
  });

  it('what is struck in the count is nothing of the piece', async () => {
    const { start, strike, end, kinds, at } = await made();
    const first = await start();
    strike(first - 1, 79);
    strike(first, 72);
    at(first + 3);
    end();
    expect(kinds()).toEqual(['in place', 'left out', 'left out', 'left out']);
  });

  it('stopped in the count, nothing is told; stopped later, only what was due', async () => {
    const { desk, listening, start, strike, kinds, at } = await made();
    at(10.5);
    await start();
    listening.stop();
    expect(desk.rehearsed.value).toBeUndefined();
    const first = await start();
    strike(first, 72);
    at(first + 0.7);
    listening.stop();
    expect(kinds()).toEqual(['in place']);
  });

  it('over and over: the last whole time through that was struck is told', async () => {
    const { desk, listening, start, strike, kinds, at, played } = await made();
    desk.run(setRehearsal, { speed: 100, loop: true });
    const first = await start();
    expect(played[0]?.options.loop).toEqual({ from: 2, to: 4 });
    [0, 1, 2, 3].forEach(i => {
      strike(first + i * 0.5 + 0.1, 72 + i);
    });
    [0, 1, 2, 3].forEach(i => {
      strike(first + 2 + i * 0.5, 72 + i);
    });
    at(first + 6.4);
    listening.stop();
    expect(kinds()).toEqual(['in place', 'in place', 'in place', 'in place']);
    expect(desk.rehearsed.value).toMatchObject({ time: 2, times: 4 });
  });

  it('the bar to practise comes round, slower, never below 40 per cent', async () => {
    const { desk } = await made();
    desk.run(setRehearsal, { speed: 50 });
    desk.run(practise, 0);
    expect(desk.rehearsal.value).toMatchObject({ bars: { first: 0, last: 0 }, loop: true, speed: 40 });
  });

  it('the page changed since: what was told of the old one is gone', async () => {
    const { desk, start, strike, end, at } = await made();
    const first = await start();
    strike(first, 72);
    at(first + 3);
    end();
    expect(desk.rehearsed.value).toBeDefined();
    desk.run(changePlan, 'faster', plan => ({ ...plan, tempo: 90 }));
    expect(desk.rehearsed.value).toBeUndefined();
  });
});

describe('keeping what was played', () => {
  it('nothing is stored unless it is kept; kept, it is one step of the piece, and undone with it', async () => {
    const { desk, start, strike, end, at, rehearsing } = await made();
    const first = await start();
    strike(first + 0.1, 72);
    at(first + 3);
    const before = desk.piece.value;
    end();
    expect(desk.piece.value).toBe(before);
    rehearsing.keep();
    expect(desk.piece.value?.playings?.map(p => p.parts.map(part => part.take.from))).toEqual([['Pad']]);
    expect(desk.isPlayingKept.value).toBe(true);
    // What was noticed still stands under the page.
    expect(desk.rehearsed.value?.parts[0]?.noticed[0]?.kind).toBe('late');
    desk.run(undoStep);
    expect(desk.piece.value).toBe(before);
  });
});

describe('several players', () => {
  it('each device plays its own part, on its own instrument, and none spoils the other', async () => {
    const { desk, start, strike, end, at, order } = await made();
    desk.run(changePlan, 'a marimba', plan => {
      const grown = addPart(plan, 'marimba');
      return grown.ok ? grown.value.plan : plan;
    });
    desk.run(setRehearsal, { speed: 100 });
    const plan = desk.plan.value;
    const [first, second] = plan?.parts ?? [];
    if (plan === undefined || first === undefined || second === undefined) throw new Error('two parts');
    desk.run(changePlan, 'both', old => ({
      ...old,
      statements: [...old.statements, ...old.statements.map(s => ({ ...s, id: 's9', part: second.id }))],
    }));
    desk.run(setDevices, ['Pad', 'Keys of Otter'], undefined);
    desk.run(givePlayer, 'Keys of Otter', second.id);
    const zero = await start();
    [0, 1, 2, 3].forEach(i => {
      strike(zero + i * 0.5, 72 + i, 'Pad');
      strike(zero + i * 0.5 + 0.09, 72 + i, 'Keys of Otter');
    });
    at(zero + 3);
    end();
    const parts = desk.rehearsed.value?.parts ?? [];
    expect(parts.map(part => [part.part, ...new Set(part.noticed.map(one => one.kind))])).toEqual([
      [first.id, 'in place'],
      [second.id, 'late'],
    ]);
    expect(order).toContain('strike xylophone 84');
    expect(order).toContain('strike marimba 72');
  });
});

describe('what is struck along', () => {
  it('is remembered, and is no idea unless it is chosen', async () => {
    const { desk, start, strike, end, at, listening } = await made();
    strike(1, 60);
    strike(1.4, 62);
    const first = await start();
    strike(first, 72);
    strike(first + 0.5, 73);
    at(first + 3);
    end();
    listening.stop();
    const { session } = desk.now();
    const all = phrasesIn(desk.memory.value, 30, session);
    expect(all.map(phrase => [phrase.strikes.length, phrase.along])).toEqual([
      [2, false],
      [2, true],
    ]);
    const caught = (chosen?: { from: number; to: number }): number[] =>
      caughtIn(desk.memory.value, 30, session, chosen).map(phrase => phrase.from);
    expect(caught()).toEqual([1]);
    expect(caught({ from: first, to: first + 0.5 })).toEqual([first]);
    expect(caughtIn(desk.memory.value, 30, { ...session, phrasesToCatch: 999 }).map(p => p.from)).toEqual([
      1,
    ]);
  });
});
