import { itemAt, intAt, realAt } from '../model/at.ts';
import { type Placement, placeOnBeat, type Players, residuals } from './placeOnBeat.ts';
import type { Swinging } from '../rhythm/swings.ts';
import { type Evidence, NO_PIN, type CellRow } from '../search/cells.ts';
import type { Repeats } from '../repeats/repeats.ts';
import { cutVariants } from '../repeats/variants.ts';
import type { Vocabulary } from '../rhythm/prior.ts';
import { ONCE_MORE, OUTSIDER, STRANGER } from './constants.ts';
import { chainsOf } from '../repeats/chains.ts';

export interface IdeaTask {
  readonly row: CellRow;
  /** Every event seen once. */
  readonly evidence: Evidence;
  readonly vocabularies: readonly Vocabulary[];
  readonly swings: readonly Swinging[];
  /** Ticks in a bar, and cells in a bar. */
  readonly bar: number;
  readonly cellsInBar: number;
  readonly alternatives: number;
  readonly players: Players;
}

interface Chains {
  /** Events that are decided, in order, each with all its observations. */
  readonly heads: readonly number[];
  readonly members: readonly (readonly number[])[];
}

/** The chains that begin within the first playing. */
const chainsWithin = (next: Int32Array, within: (head: number) => boolean): Chains => {
  const members = chainsOf(next).filter(([head = -1]) => within(head));
  return { heads: members.map(([head = -1]) => head), members };
};

const ideaEvidence = (
  single: Evidence,
  chains: Chains,
  periodCells: number,
  periodTicks: number,
): Evidence => {
  const from = new Int32Array(chains.heads.length + 1);
  const at: number[] = [];
  const shift: number[] = [];
  const pin = new Int32Array(chains.heads.length).fill(NO_PIN);
  chains.members.forEach((chain, h) => {
    chain.forEach((event, r) => {
      at.push(realAt(single.at, event));
      shift.push(r * periodCells);
      const own = intAt(single.pin, event);
      // A pin on any repeat holds for the idea.
      if (own !== NO_PIN) pin[h] = own - r * periodTicks;
    });
    from[h + 1] = at.length;
  });
  return { events: chains.heads.length, from, at: Float64Array.from(at), shift: Int32Array.from(shift), pin };
};

export interface IdeaPlacements {
  readonly found: readonly Placement[];
  /** Events that keep to the repeats. */
  readonly repeated: number;
  /** Whether the teacher placed a note of it: then it is not up for comparison. */
  readonly pinned: boolean;
}

/**
 * Reads all repeats of an idea together: each place of the idea is decided once, from all the strikes
 * that play it, so timing noise falls with the root of their number. Strikes that belong to no repeat
 * (a varied ending) are read afterwards, with the repeats held fast.
 */
export const readRepeats = (
  task: IdeaTask,
  repeats: Repeats,
  places: Float64Array,
): IdeaPlacements | undefined => {
  const { row, evidence, bar } = task;
  const n = evidence.events;
  const periodCells = repeats.bars * task.cellsInBar;
  const periodTicks = repeats.bars * bar;
  const next = cutVariants(
    repeats.next,
    places,
    periodTicks,
    bar / task.cellsInBar,
    event => intAt(evidence.pin, event) !== NO_PIN,
  );
  const limit = realAt(places, 0) + periodTicks - bar / 32;
  for (let round = 0; ; round++) {
    const chains = chainsWithin(next, i => realAt(places, i) < limit);
    const idea = ideaEvidence(evidence, chains, periodCells, periodTicks);
    const lastPlace = realAt(places, itemAt(chains.heads, chains.heads.length - 1));
    // One cell beyond the idea, for a strike that comes early on the next barline.
    const reachTo = Math.max(lastPlace + bar / 16, ...idea.pin);
    let cells = 0;
    while (cells < row.start.length - 1 && intAt(row.start, cells) <= reachTo) cells++;
    const most = Math.max(...idea.shift);
    cells = Math.min(cells, row.start.length - 1 - most);
    const found = placeOnBeat(
      row,
      idea,
      task.vocabularies,
      task.swings,
      task.alternatives,
      task.players,
      cells,
    );
    const [best] = found;
    if (best === undefined) return undefined;
    const off = residuals(row, idea, best.ticks, best.performance);
    let strangers = 0;
    let pinned = false;
    chains.members.forEach((chain, h) => {
      // Where the teacher placed one playing of the idea, the others follow.
      if (intAt(idea.pin, h) !== NO_PIN) {
        if (chain.length > 1) pinned = true;
        return;
      }
      const o = intAt(idea.from, h);
      chain.forEach((event, r) => {
        if (
          chain.length < 2 ||
          Math.abs(realAt(off, o + r) - best.performance.late) < STRANGER * best.performance.spread
        )
          return;
        strangers++;
        if (r > 0) next[itemAt(chain, r - 1)] = -1;
        if (r + 1 < chain.length) next[event] = -1;
      });
    });
    if (strangers > 0 && round < 2) continue;
    const covered = chains.members.reduce((s, c) => s + c.length, 0);
    const times = Math.max(...chains.members.map(c => c.length));
    const extra = ONCE_MORE * (times - 1) + OUTSIDER * (n - covered);
    const whole = found.slice(0, task.alternatives).flatMap((f, rank) => {
      const pin = Int32Array.from(evidence.pin);
      chains.members.forEach((chain, h) => {
        chain.forEach((event, r) => (pin[event] = intAt(f.ticks, h) + r * periodTicks));
      });
      if (covered === n) return [{ ...f, ticks: pin }];
      if (rank > 4) return [];
      const rest = placeOnBeat(row, { ...evidence, pin }, task.vocabularies, [f.swing], 3, task.players);
      const [first] = rest;
      return rest.map(r => ({
        ...f,
        ticks: r.ticks,
        vocabulary: r.vocabulary,
        cost:
          f.cost +
          r.cost -
          (first?.cost ?? 0) +
          Math.max(0, (first?.vocabulary.cost ?? 0) - f.vocabulary.cost),
      }));
    });
    if (whole.length === 0) return undefined;
    return {
      found: whole.map(f => ({ ...f, cost: f.cost + extra })).sort((a, b) => a.cost - b.cost),
      repeated: covered,
      pinned,
    };
  }
};
