import { expect, it } from 'vitest';
import { toNumber } from '../../../core/foundation/fraction.ts';
import { readTake } from '../../../core/reading/read.ts';
import type { Reading } from '../../../core/reading/model/reading.ts';
import { pageSoFar } from '../../../core/reading/whilePlaying/pageSoFar.ts';
import { played } from '../../takes/written.ts';
import { asPlayed } from './asPlayed.ts';

const WHITE = [67, 69, 71, 72, 74, 76, 77, 79];
const told = (page: Reading | undefined): unknown =>
  page?.notes.map(n => [
    toNumber(n.onset) * 4,
    toNumber(n.duration) * 4,
    n.gliss?.to,
    n.gliss?.strokes.map(s => s.pitch),
  ]);

it.each([true, false])('a glissando is one note with its line while it is written, a click %s', click => {
  const at = Array.from({ length: 16 }, (_, i) => i);
  const take = played({ at, pitch: at.map(i => (i === 12 ? 67 : 60 + ((i * 5) % 7))), tempo: 96, click });
  const strikes = take.strikes.flatMap((s, i) =>
    i === 12 ? WHITE.map((pitch, k) => ({ at: s.at + k * 0.022, pitch, velocity: 70 })) : [s],
  );
  const whole = { ...take, strikes };
  const steps = asPlayed(whole);
  const shown = steps.flatMap(({ so }) =>
    so.moments.filter(m => m.tick < so.upTo).flatMap(m => m.struck.filter(s => s.gliss !== undefined)),
  );
  expect(shown.length).toBeGreaterThan(0);
  expect(shown.every(s => s.pitch === 67 && s.gliss?.over.join() === WHITE.join() && s.gliss.to === 79)).toBe(
    true,
  );
  // No bar on its way was ever shown as a note.
  const others = steps.flatMap(({ so }) =>
    so.moments
      .filter(m => m.tick < so.upTo)
      .flatMap(m => m.struck.filter(s => s.gliss === undefined).map(s => s.pitch)),
  );
  expect(others.some(pitch => pitch > 67)).toBe(false);
  const page = steps.at(-1)?.so;
  const last = page === undefined ? undefined : pageSoFar(page);
  const caught = readTake(whole)[0];
  if (click) expect(told(last)).toEqual((told(caught) as unknown[]).slice(0, last?.notes.length ?? 0));
  else expect(last?.notes.filter(n => n.gliss !== undefined).map(n => n.gliss?.to)).toEqual([79]);
});
