import type { Score } from '../../core/score/score.ts';

/** Which bars stand in one system, as a range of bar indices, and how wide each is drawn. */
export interface SystemPlan {
  readonly first: number;
  readonly widths: readonly number[];
}

/** Space a bar needs, in stave units (10 to a stave space): each onset by the root of its length. */
export const naturalWidth = (score: Score, index: number): number => {
  const places = new Map<string, number>();
  let signs = 0;
  for (const part of score.parts) {
    for (const symbol of part.bars[index]?.symbols ?? []) {
      const place = `${String(symbol.at.n)}/${String(symbol.at.d)}`;
      const quavers = (symbol.length.n / symbol.length.d) * 8;
      const need = symbol.wholeBar === true ? 40 : 17 + 12 * Math.sqrt(quavers);
      places.set(place, Math.min(places.get(place) ?? Infinity, need));
      if (symbol.pitches.some(p => p.accidental !== undefined)) signs += 1;
    }
  }
  const sum = [...places.values()].reduce((so, need) => so + need, 0);
  return Math.max(90, sum + (signs * 12) / score.parts.length + 26);
};

/**
 * Breaks bars into systems of at most `width`, evenly filled, and stretches each system to the
 * full width except a short last one. `head` is what clef, signature and metre take at the left.
 */
export const breakIntoSystems = (
  naturals: readonly number[],
  width: number,
  firstHead: number,
  head: number,
): readonly SystemPlan[] => {
  const rows: { first: number; naturals: number[] }[] = [];
  let used = Infinity;
  naturals.forEach((natural, i) => {
    const room = width - (rows.length <= 1 ? firstHead : head);
    const last = rows.at(-1);
    if (last === undefined || used + natural > room) {
      rows.push({ first: i, naturals: [natural] });
      used = natural;
    } else {
      last.naturals.push(natural);
      used += natural;
    }
  });
  balanceLast(rows);
  return rows.map((row, r) => {
    const room = width - (r === 0 ? firstHead : head);
    const sum = row.naturals.reduce((a, b) => a + b, 0);
    const isLast = r === rows.length - 1;
    const stretch = isLast ? Math.min(room / sum, rows.length === 1 ? 1.6 : 1.3) : room / sum;
    return { first: row.first, widths: row.naturals.map(n => n * stretch) };
  });
};

/** A lonely last bar takes company from the system before. */
const balanceLast = (rows: { first: number; naturals: number[] }[]): void => {
  const last = rows.at(-1);
  const before = rows.at(-2);
  if (last === undefined || before === undefined || last.naturals.length > 1 || before.naturals.length < 3)
    return;
  const moved = before.naturals.pop();
  if (moved === undefined) return;
  last.naturals.unshift(moved);
  last.first -= 1;
};
