import { type Found, placeOnBeat, type Players, residuals } from './placeOnBeat.ts';
import type { Swinging } from '../rhythm/swings.ts';
import { type Evidence, NO_PIN, type Stage } from '../search/moveGraph.ts';
import type { Repeats } from '../repeats/repeats.ts';
import { cutVariants } from '../repeats/variants.ts';
import type { Vocabulary } from '../rhythm/prior.ts';

export interface JointTask {
  readonly stage: Stage;
  /** Every event seen once. */
  readonly evidence: Evidence;
  readonly vocabularies: readonly Vocabulary[];
  readonly swings: readonly Swinging[];
  /** Ticks in a bar, and cells in a bar. */
  readonly bar: number;
  readonly cellsInBar: number;
  readonly deep: number;
  readonly players: Players;
}

/** Nats for playing the idea once more. */
const ONCE_MORE = 1;
/** Nats an event outside the repeats costs about (its rhythm and timing), to compare like with like. */
const OUTSIDER = 2.8;
/** An observation this many spreads from where its repeats put it is no repeat. */
const STRANGER = 4;

interface Chains {
  /** Events that are decided, in order, each with all its observations. */
  readonly heads: readonly number[];
  readonly members: readonly (readonly number[])[];
}

const chainsOf = (next: Int32Array, within: (head: number) => boolean): Chains => {
  const n = next.length;
  const follows = new Uint8Array(n);
  next.forEach(j => {
    if (j >= 0) follows[j] = 1;
  });
  const heads: number[] = [];
  const members: number[][] = [];
  for (let i = 0; i < n; i++) {
    if (follows[i] === 1 || !within(i)) continue;
    const chain: number[] = [];
    for (let j = i; j >= 0; j = next[j] ?? -1) chain.push(j);
    heads.push(i);
    members.push(chain);
  }
  return { heads, members };
};

const jointEvidence = (
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
      at.push(single.at[event] ?? 0);
      shift.push(r * periodCells);
      const own = single.pin[event] ?? NO_PIN;
      // A pin on any repeat holds for the idea.
      if (own !== NO_PIN) pin[h] = own - r * periodTicks;
    });
    from[h + 1] = at.length;
  });
  return { events: chains.heads.length, from, at: Float64Array.from(at), shift: Int32Array.from(shift), pin };
};

export interface Joint {
  readonly found: readonly Found[];
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
export const readRepeats = (task: JointTask, repeats: Repeats, places: Float64Array): Joint | undefined => {
  const { stage, evidence, bar } = task;
  const n = evidence.events;
  const periodCells = repeats.bars * task.cellsInBar;
  const periodTicks = repeats.bars * bar;
  const next = cutVariants(
    repeats.next,
    places,
    periodTicks,
    bar / task.cellsInBar,
    event => (evidence.pin[event] ?? NO_PIN) !== NO_PIN,
  );
  const limit = (places[0] ?? 0) + periodTicks - bar / 32;
  for (let round = 0; ; round++) {
    const chains = chainsOf(next, i => (places[i] ?? 0) < limit);
    const joint = jointEvidence(evidence, chains, periodCells, periodTicks);
    const lastPlace = places[chains.heads[chains.heads.length - 1] ?? 0] ?? 0;
    // One cell beyond the idea, for a strike that comes early on the next barline.
    const reachTo = Math.max(lastPlace + bar / 16, ...joint.pin);
    let cells = 0;
    while (cells < stage.start.length - 1 && (stage.start[cells] ?? 0) <= reachTo) cells++;
    const most = Math.max(...joint.shift);
    cells = Math.min(cells, stage.start.length - 1 - most);
    const found = placeOnBeat(stage, joint, task.vocabularies, task.swings, task.deep, task.players, cells);
    const [best] = found;
    if (best === undefined) return undefined;
    const off = residuals(stage, joint, best.ticks, best.feel);
    let strangers = 0;
    let pinned = false;
    chains.members.forEach((chain, h) => {
      // Where the teacher placed one playing of the idea, the others follow.
      if ((joint.pin[h] ?? NO_PIN) !== NO_PIN) {
        if (chain.length > 1) pinned = true;
        return;
      }
      const o = joint.from[h] ?? 0;
      chain.forEach((event, r) => {
        if (chain.length < 2 || Math.abs((off[o + r] ?? 0) - best.feel.late) < STRANGER * best.feel.spread)
          return;
        strangers++;
        if (r > 0) next[chain[r - 1] ?? 0] = -1;
        if (r + 1 < chain.length) next[event] = -1;
      });
    });
    if (strangers > 0 && round < 2) continue;
    const covered = chains.members.reduce((s, c) => s + c.length, 0);
    const times = Math.max(...chains.members.map(c => c.length));
    const extra = ONCE_MORE * (times - 1) + OUTSIDER * (n - covered);
    const whole = found.slice(0, task.deep).flatMap((f, rank) => {
      const pin = Int32Array.from(evidence.pin);
      chains.members.forEach((chain, h) => {
        chain.forEach((event, r) => (pin[event] = (f.ticks[h] ?? 0) + r * periodTicks));
      });
      if (covered === n) return [{ ...f, ticks: pin }];
      if (rank > 4) return [];
      const rest = placeOnBeat(stage, { ...evidence, pin }, task.vocabularies, [f.swing], 3, task.players);
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
