import type { Piece } from '../../core/piece/piece.ts';
import { pieceShape } from '../../core/library/pieceShape.ts';

type Path = readonly (string | number)[];
type Holder = Record<string | number, unknown>;

const isHolder = (value: unknown): value is Holder => typeof value === 'object' && value !== null;
const pathsOf = (value: unknown, at: Path = []): Path[] =>
  isHolder(value)
    ? Object.entries(value).flatMap(([k, inner]) => [[...at, k], ...pathsOf(inner, [...at, k])])
    : [];
const valueAt = (value: unknown, path: Path): unknown =>
  path.reduce((so: unknown, k) => (isHolder(so) ? so[k] : undefined), value);

/** Figures at the edges of what a field may be, and some beside them. */
const FIGURES = [
  0,
  1,
  -1,
  2,
  3,
  5,
  7,
  16,
  23,
  24,
  64,
  127,
  128,
  254,
  -254,
  399,
  400,
  512,
  -512,
  999,
  2000,
  8191,
  8192,
  65536,
  131072,
  2 ** 26 - 1,
  2 ** 26,
  -(2 ** 26),
  1e7,
  0.1,
  0.5,
  1e-3,
];
/** Denominators of pages, whole ones and halved, in threes, fives and sevens over and over. */
const DENOMINATORS = [1, 2, 3, 5, 7, 16, 49, 64, 192, 4096, 243, 1024 * 243, 25 * 49 * 243, 4096 * 243 * 25];

/**
 * A piece with one to three of its fields changed, as JSON could hold it; undefined where a field is not of its shape any
 * more.
 * @param chance from 0 up to 1, the next one each time
 */
export const mutated = (piece: Piece, chance: () => number): Piece | undefined => {
  const made: unknown = JSON.parse(JSON.stringify(piece));
  const pick = <T>(all: readonly T[]): T => {
    const one = all[Math.floor(chance() * all.length)];
    if (one === undefined) throw new Error('nothing to pick');
    return one;
  };
  const changes = 1 + Math.floor(chance() * 3);
  for (let i = 0; i < changes; i++) {
    // What was struck is only looked at by the reader.
    const path = pick(pathsOf(made).filter(p => p[0] !== 'take'));
    const holder = valueAt(made, path.slice(0, -1));
    const last = path.at(-1);
    if (!isHolder(holder) || last === undefined) continue;
    const old = holder[last];
    if (typeof old === 'number') holder[last] = pick(FIGURES);
    else if (typeof old === 'boolean') holder[last] = !old;
    else if (typeof old === 'string')
      holder[last] = pick(
        pathsOf(made)
          .filter(p => p.at(-1) === last)
          .map(p => valueAt(made, p)),
      );
    else if (Array.isArray(old))
      holder[last] = pick<unknown[]>([
        [],
        [...(old as unknown[]), ...(old as unknown[])],
        [...(old as unknown[])].reverse(),
      ]);
    else if (isHolder(old) && 'n' in old) holder[last] = { n: pick(FIGURES), d: pick(DENOMINATORS) };
    else Reflect.deleteProperty(holder, last);
  }
  const read = pieceShape.safeParse(made);
  return read.success ? read.data : undefined;
};
