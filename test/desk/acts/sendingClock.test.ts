// @vitest-environment happy-dom
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { fraction } from '../../../core/foundation/fraction.ts';
import type { Score } from '../../../core/score/score.ts';
import { setSends } from '../../../renderer/desk/commands/sending.ts';
import { pieceOfFour } from '../../exchange/pieces.ts';
import { BEGINS, hear, sendingDesk, type SendingDesk } from './sendingDesk.ts';

let on: SendingDesk;
beforeEach(async () => {
  on = await sendingDesk();
});
afterEach(async () => {
  await on.input.stop();
});

describe('MIDI clock', () => {
  const CLOCK = 0xf8;
  const realTime = (from: number) =>
    on.midi
      .sent(on.port)
      .filter(({ data }) => (data[0] ?? 0) >= 0xf2)
      .map(({ data, timestamp }) => ({ data, at: timestamp / 1000 - from }));
  const clocked = async (): Promise<void> => {
    await on.sending.choose(on.port);
    on.desk.run(setSends, { clock: true });
  };
  /** Four bars of 4/4 at 120, then at 60 from the third. */
  const twoTempi = (): Score => {
    const { swing: _, ...score } = pieceOfFour();
    return { ...score, tempo: 120, tempi: [{ at: fraction(2), tempo: 60 }] };
  };

  it('is not sent unless it is chosen', async () => {
    await on.sending.choose(on.port);
    await hear(on, twoTempi());
    on.band.pass(2);
    on.listening.stop();
    expect(realTime(0)).toEqual([]);
  });

  it('starts before its first pulse, beats 24 to the crotchet through a new tempo, and stops', async () => {
    await clocked();
    await hear(on, twoTempi());
    on.band.pass(7);
    on.listening.stop();
    const all = realTime(BEGINS);
    expect(all[0]?.data).toEqual([0xfa]);
    const pulses = all.filter(({ data }) => data[0] === CLOCK).map(({ at }) => at);
    expect((pulses[0] ?? 0) - (all[0]?.at ?? 0)).toBeGreaterThanOrEqual(0.00099);
    // 120 crotchets a minute for two bars: 192 clocks in four seconds; then half as quick.
    pulses.slice(0, 280).forEach((at, i) => {
      expect(at).toBeCloseTo(i < 192 ? i / 48 : 4 + (i - 192) / 24, 4);
    });
    expect(pulses.length).toBeGreaterThan(192 + 60);
    expect(all.filter(({ data }) => data[0] === 0xfc)).toHaveLength(1);
    expect(all.at(-1)?.data).toEqual([0xfc]);
  });

  it('goes on from a place with its song position, and comes round in a loop', async () => {
    await clocked();
    await hear(on, twoTempi(), { from: 1 });
    on.band.pass(0.4);
    on.listening.stop();
    // A bar of 4/4 is sixteen semiquavers.
    expect(
      realTime(BEGINS)
        .slice(0, 3)
        .map(({ data }) => data),
    ).toEqual([[0xf2, 16, 0], [0xfb], [CLOCK]]);
    const before = realTime(0).length;
    const begins = on.band.now() + 0.1;
    await hear(on, twoTempi(), { bar: 2 });
    // The second bar lasts two seconds.
    on.band.pass(5);
    on.listening.stop();
    const told = realTime(begins)
      .slice(before)
      .filter(({ data }) => data[0] !== CLOCK)
      .map(({ data, at }) => [...data, Number(at.toFixed(2))]);
    expect(told).toEqual([
      [0xf2, 16, 0, -0],
      [0xfb, -0],
      [0xfc, 2],
      [0xf2, 16, 0, 2],
      [0xfb, 2],
      [0xfc, 4],
      [0xf2, 16, 0, 4],
      [0xfb, 4],
      [0xfc, 4.9],
    ]);
  });

  it('waits for the music where a bar is counted in', async () => {
    await clocked();
    await hear(on, twoTempi(), { countIn: true });
    on.band.pass(4);
    on.listening.stop();
    const [first, second] = realTime(BEGINS);
    expect(first?.data).toEqual([0xfa]);
    // Four crotchets at 120.
    expect(second?.at).toBeCloseTo(2, 6);
  });
});
