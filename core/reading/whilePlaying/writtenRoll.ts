import { rollEnd } from '../../take/fastRuns.ts';
import type { Strike } from '../../take/take.ts';
import type { WrittenStrike } from './soFar.ts';

/** What is kept of a roll: where its strokes end. */
export const writtenRoll = (
  strokes: readonly number[] | undefined,
  strikes: readonly Strike[],
): Pick<WrittenStrike, 'roll'> => {
  const at = (strokes ?? []).flatMap(s => strikes[s]?.at ?? []);
  const last = at.at(-1);
  return at.length < 2 || last === undefined ? {} : { roll: { last, until: rollEnd(at) } };
};
