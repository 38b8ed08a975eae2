import { describe, expect, it } from 'vitest';
import { toNumber } from '../../../core/foundation/fraction.ts';
import { readTake } from '../../../core/reading/read.ts';
import { pageSoFar } from '../../../core/reading/whilePlaying/pageSoFar.ts';
import { played } from '../../takes/written.ts';
import { asPlayed } from './asPlayed.ts';

const never = (): never => {
  throw new Error('nothing was written');
};

describe('a roll while it is played', () => {
  it('is one note from its first beat on, and goes on being it while it is struck, over a barline too', () => {
    const take = played({
      at: [0, 1, 2, 3, 8, 9, 10, 11],
      pitch: [60, 64, 67, 65, 62, 64, 65, 67],
      tempo: 96,
    });
    const [, , , from] = take.strikes;
    if (from === undefined) throw new Error('too few');
    for (const other of [0, 5]) {
      const roll = Array.from({ length: 36 }, (_, k) => ({
        at: from.at + (k + 1) * 0.083,
        pitch: 65 + (k % 2 === 0 ? other : 0),
        velocity: 70,
      }));
      const strikes = [...take.strikes, ...roll].sort((a, b) => a.at - b.at);
      const steps = asPlayed({ ...take, strikes });
      const shown = steps.map(s => s.so.moments.filter(m => m.tick === 144 && m.tick < s.so.upTo));
      for (const moments of shown.filter(m => m.length > 0)) {
        expect(moments.map(m => m.struck.map(s => [s.pitch, s.roll !== undefined]))).toEqual([
          other === 0
            ? [[65, true]]
            : [
                [65, true],
                [70, true],
              ],
        ]);
      }
      const page = pageSoFar(steps.at(-1)?.so ?? steps[0]?.so ?? never());
      expect(page?.notes.map(n => [toNumber(n.onset) * 4, n.roll !== undefined])).toEqual(
        readTake({ ...take, strikes })[0]
          ?.notes.slice(0, page?.notes.length)
          .map(n => [toNumber(n.onset) * 4, n.roll !== undefined]),
      );
    }
  });
});
