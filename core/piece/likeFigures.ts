import { add, equal, type Fraction, show, subtract, toNumber, ZERO } from '../foundation/fraction.ts';
import { beatLengths, type Metre, tactus } from '../foundation/metre.ts';
import { barAndBeat, positionOf } from '../plan/beats.ts';
import type { Reading, ReadNote } from '../reading/model/reading.ts';
import type { Pin } from './rereading.ts';

/** Notes that stand at one position. */
interface Onset {
  readonly at: Fraction;
  readonly notes: readonly ReadNote[];
}

/** Onsets next to each other that a correction put elsewhere, and by how much each. */
interface Corrected {
  readonly first: number;
  readonly by: readonly Fraction[];
}

/**
 * The same correction for the same figure everywhere else on a page: what stands at the same distances from
 * its neighbours and at the same place of a beat of the same length goes by as much. A figure of which one
 * note was already put somewhere by hand is left out, and so is everything where a chord was taken apart or
 * a note went a beat or further: then one place was wrong, not a figure.
 * @param page as it stood before the correction
 * @param after with what moved to make room for it
 * @param pins the notes meant, and where they were put
 * @param pinned strikes put in their place by hand before
 * @returns pins for notes of other figures only; rising by position
 */
export const likeFigures = (
  page: Reading,
  after: Reading,
  pins: readonly Pin[],
  pinned: readonly number[] = [],
): readonly Pin[] => {
  const onsets = onsetsOf(page);
  const moved = correctedIn(page, onsets, after, pins);
  const own = new Set(pins.map(p => p.strike));
  const fixed = new Set([...pinned, ...own]);
  const taken = new Set(
    moved.flatMap(({ first, by }) => onsets.slice(first, first + by.length).map(o => toNumber(o.at))),
  );
  return moved.flatMap(({ first, by }) => {
    const wanted = figureOf(page.metre, onsets, first, by.length);
    const edges = { before: by[0]?.n !== 0, after: by.at(-1)?.n !== 0 };
    const like: Pin[] = [];
    for (let k = 0; k + by.length <= onsets.length; k++) {
      const here = onsets.slice(k, k + by.length);
      if (here.some(o => taken.has(toNumber(o.at)) || o.notes.some(n => fixed.has(n.strike)))) continue;
      if (!isLike(wanted, figureOf(page.metre, onsets, k, by.length), edges)) continue;
      here.forEach((o, i) => {
        const shift = by[i];
        if (shift !== undefined && shift.n !== 0)
          like.push(
            ...o.notes
              .filter(n => n.strike >= 0)
              .map(n => ({ strike: n.strike, onset: add(n.onset, shift) })),
          );
        taken.add(toNumber(o.at));
      });
    }
    return like;
  });
};

const onsetsOf = (page: Reading): readonly Onset[] => {
  const onsets: { at: Fraction; notes: ReadNote[] }[] = [];
  for (const note of page.notes) {
    const last = onsets.at(-1);
    if (last !== undefined && equal(last.at, note.onset)) last.notes.push(note);
    else onsets.push({ at: note.onset, notes: [note] });
  }
  return onsets;
};

/** Runs of onsets of which pins moved one; neighbours within a beat that made room belong to them. */
const correctedIn = (
  page: Reading,
  onsets: readonly Onset[],
  after: Reading,
  pins: readonly Pin[],
): readonly Corrected[] => {
  const wanted = new Map(pins.map(p => [p.strike, p.onset]));
  const found = new Map(after.notes.map(n => [n.strike, n.onset]));
  const beat = toNumber(tactus(page.metre));
  const shifts = onsets.map(o => o.notes.map(n => shiftOf(n, wanted.get(n.strike) ?? found.get(n.strike))));
  const isPinned = onsets.map(o => o.notes.some(n => wanted.has(n.strike)));
  const pinnedAt = onsets.filter((_, i) => isPinned[i] === true).map(o => toNumber(o.at));
  const near = (o: Onset): boolean => pinnedAt.some(at => Math.abs(at - toNumber(o.at)) < beat);
  const partOf = onsets.map(
    (o, i) => isPinned[i] === true || (near(o) && (shifts[i] ?? []).some(s => s.n !== 0)),
  );
  const runs: Corrected[] = [];
  for (let i = 0; i < onsets.length; i++) {
    if (partOf[i] !== true) continue;
    let end = i;
    while (partOf[end] === true) end++;
    const inside = shifts.slice(i, end);
    // A chord that was taken apart is no figure.
    const whole = inside.every(s => s.every(x => equal(x, s[0] ?? x)));
    const by = inside.flatMap(s => s.slice(0, 1));
    const close = by.every(s => Math.abs(toNumber(s)) < beat);
    const meant = isPinned.slice(i, end).some((p, k) => p && by[k]?.n !== 0);
    if (whole && close && meant) runs.push({ first: i, by });
    i = end;
  }
  return runs;
};

const shiftOf = (note: ReadNote, onset: Fraction | undefined): Fraction =>
  onset === undefined ? ZERO : subtract(onset, note.onset);

/** What a figure is told by: gaps and places in semibreves, as text, for they are compared exactly. */
interface Figure {
  /** Gap to the onset before, undefined at the beginning of the page. */
  readonly before: string | undefined;
  readonly inside: string;
  /** Gap to the onset after, undefined at the end of the page. */
  readonly after: string | undefined;
}

const figureOf = (m: Metre, onsets: readonly Onset[], first: number, length: number): Figure => {
  const gap = (k: number): string | undefined => {
    const from = onsets[k];
    const to = onsets[k + 1];
    return from === undefined || to === undefined ? undefined : show(subtract(to.at, from.at));
  };
  const at = onsets[first]?.at ?? ZERO;
  const { bar, beat } = barAndBeat(m, at);
  const inBeat = subtract(at, positionOf(m, bar, beat));
  const gaps = Array.from({ length: length - 1 }, (_, k) => gap(first + k));
  return {
    before: gap(first - 1),
    inside: [...gaps, show(inBeat), show(beatLengths(m)[beat - 1] ?? ZERO)].join(),
    after: gap(first + length - 1),
  };
};

/**
 * The same figure, as far as the page shows it: where its edge cuts off a gap, the note at that edge must have
 * stayed, for of one that moves nobody can tell what it moved from or towards.
 */
const isLike = (wanted: Figure, other: Figure, moves: { before: boolean; after: boolean }): boolean => {
  const same = (a: string | undefined, b: string | undefined, moved: boolean): boolean =>
    a === b || (!moved && (a === undefined || b === undefined));
  return (
    wanted.inside === other.inside &&
    same(wanted.before, other.before, moves.before) &&
    same(wanted.after, other.after, moves.after)
  );
};
