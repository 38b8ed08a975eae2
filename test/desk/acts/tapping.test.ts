import { expect, it } from 'vitest';
import type { Asking } from '../../../renderer/desk/asking.ts';
import type { Listening } from '../../../renderer/desk/acts/listening.ts';
import { createTapping, type Tapping } from '../../../renderer/desk/acts/tapping.ts';
import { setTaps } from '../../../renderer/desk/commands/playing.ts';
import { createDesk, type Desk } from '../../../renderer/desk/desk.ts';

/** A take that is playing, and stands at `place.at` of it. */
const tapping = (): { desk: Desk; tap: Tapping; place: { at: number | undefined }; stops: () => number } => {
  const desk = createDesk();
  const place: { at: number | undefined } = { at: 0 };
  let stops = 0;
  const listening: Pick<Listening, 'takeTime' | 'stop' | 'take'> = {
    takeTime: () => place.at,
    stop: () => {
      stops += 1;
    },
    take: () => undefined,
  };
  const asking: Pick<Asking, 'ask'> = { ask: () => Promise.resolve(true) };
  return {
    desk,
    tap: createTapping(desk, asking as Asking, listening as Listening),
    place,
    stops: () => stops,
  };
};

it('a tap counts from when the finger fell, not from when the screen heard of it', () => {
  const { desk, tap, place } = tapping();
  desk.run(setTaps, []);
  for (const at of [1, 1.5, 2]) {
    place.at = at;
    tap.tap(0.06);
  }
  expect(desk.taps.value?.map(t => Number(t.toFixed(9)))).toEqual([0.94, 1.44, 1.94]);
});

it('nothing is tapped while nobody is asked to, or nothing plays', () => {
  const { desk, tap, place } = tapping();
  tap.tap(0);
  expect(desk.taps.value).toBeUndefined();
  desk.run(setTaps, []);
  place.at = undefined;
  tap.tap(0);
  expect(desk.taps.value).toEqual([]);
});

it('leaving forgets the taps and stops the replay, once', () => {
  const { desk, tap, stops } = tapping();
  desk.run(setTaps, [1, 2]);
  tap.leave();
  tap.leave();
  expect([desk.taps.value, stops()]).toEqual([undefined, 1]);
});
