import { rollEnd } from '../../take/fastRuns.ts';
import type { Strike } from '../../take/take.ts';
import type { ReadGlissando } from '../model/reading.ts';
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

/** What is kept of a line over bars: where it ends, and the bars. */
export const writtenLine = (
  gliss: ReadGlissando | undefined,
  strikes: readonly Strike[],
): Pick<WrittenStrike, 'gliss'> => {
  const at = (gliss?.strokes ?? []).flatMap(s => strikes[s.strike]?.at ?? []);
  const last = at.at(-1);
  if (gliss === undefined || at.length < 2 || last === undefined) return {};
  return { gliss: { last, until: rollEnd(at), over: gliss.strokes.map(s => s.pitch), to: gliss.to } };
};
