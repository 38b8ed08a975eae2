import type { BarNumber, Ticks } from '../foundation/units.ts';
import {
  add,
  type Fraction,
  fraction,
  less,
  multiply,
  subtract,
  toNumber,
  ZERO,
} from '../foundation/fraction.ts';
import { type MetresInForce, metreAtPlace } from '../foundation/barring.ts';
import { barLength, beatStarts, tactus } from '../foundation/metre.ts';
import { midiOf } from '../foundation/pitch.ts';
import { applyChain } from '../motif/apply.ts';
import type { Motif } from '../motif/motif.ts';
import type { Treatment } from '../motif/treatment.ts';
import { type Heard, hear, type Sounding } from './hear.ts';
import { INSTRUMENTS, type InstrumentId } from '../instruments/instruments.ts';
import { barAndBeat, beatsLater } from '../plan/beats.ts';
import { type Plan, statementsOf } from '../plan/plan.ts';
import { barringIn, type Changes, keysInForce } from '../plan/keys.ts';
import { passageOf, notesOfPassage, notesOfStatement, type Statement } from '../plan/statement.ts';

/** What is done to the idea besides entering later and higher or lower. */
export type EntryChange = 'plain' | 'augmented' | 'diminished' | 'inverted';
export const ENTRY_CHANGES: readonly EntryChange[] = ['plain', 'augmented', 'diminished', 'inverted'];

/** One way a second part could come in, and how it sounds against what is there. */
export interface Entry {
  /** After the leader's own entry, in semibreves. */
  readonly delay: Fraction;
  /** Steps of the scale, -7 to 7. */
  readonly steps: number;
  readonly change: EntryChange;
  /** -1 (rough) to 1 (thirds and sixths); 0 where nothing sounds together, and for doubling. */
  readonly score: number;
  /** Share of the entry's time in which it sounds with something else, 0 to 1. */
  readonly together: number;
  /** Share of that time in which it doubles another part, 0 to 1: neither good nor bad. */
  readonly doubling: number;
  /** Places of strong clashes, as bars and beats from 1. */
  readonly clashes: readonly { readonly bar: BarNumber; readonly beat: number }[];
  /** "mostly thirds and sixths; clashes on beat 3 of bar 2". */
  readonly sentence: string;
}

/** Ticks to a semibreve: every value, tuplet and diminution of one falls on a whole tick. */
const TICKS = 1536;
const ticksOf = (at: Fraction): Ticks => Math.round(toNumber(at) * TICKS);

/** Weight of a place in the bar: 4 the barline, 3 its middle, 2 a beat, 1 anything else (our choice). */
const weightsOf = (barring: MetresInForce): ((tick: number) => number) => {
  const stretches = barring.map(({ metre, from }) => {
    const starts = beatStarts(metre).map(ticksOf);
    const middle = starts.length % 2 === 0 ? starts[starts.length / 2] : undefined;
    return { from: ticksOf(from), bar: ticksOf(barLength(metre)), starts, middle };
  });
  return tick => {
    const here = stretches.filter((s, i) => i === 0 || s.from <= tick).at(-1);
    if (here === undefined) return 1;
    const { from, bar, starts, middle } = here;
    const inBar = (((tick - from) % bar) + bar) % bar;
    if (inBar === 0) return 4;
    if (inBar === middle) return 3;
    return starts.includes(inBar) ? 2 : 1;
  };
};

const placeWords = (m: MetresInForce, tick: number): { bar: number; beat: number } =>
  barAndBeat(m, fraction(tick, TICKS));

const clashWords = (m: MetresInForce, clashes: readonly number[]): string => {
  if (clashes.length === 0) return 'no clashes on the beats';
  const [first, second] = clashes.map(tick => {
    const { bar, beat } = placeWords(m, tick);
    return `beat ${String(beat)} of bar ${String(bar)}`;
  });
  const rest = clashes.length - 2;
  if (second === undefined) return `clashes on ${first ?? ''}`;
  return rest > 0
    ? `clashes on ${first ?? ''}, ${second} and ${String(rest)} more`
    : `clashes on ${first ?? ''} and ${second}`;
};

/** What is heard, in a sentence: what most of it is, and where it clashes. */
const sentenceOf = (m: MetresInForce, heard: Heard): string => {
  const all = [...heard.kinds].sort((a, b) => b[1] - a[1]);
  const total = all.reduce((so, [, weight]) => so + weight, 0);
  const [most, next] = all;
  if (most === undefined || total === 0) return 'nothing sounds together here';
  const share = most[1] / total;
  if (heard.doubling > 0.85) return `doubling: the same notes, or octaves of them`;
  const what =
    share > 0.85
      ? `nearly all ${most[0]}`
      : share > 0.5
        ? `mostly ${most[0]}`
        : next === undefined
          ? most[0]
          : `${most[0]}, and ${next[0]}`;
  const little = heard.together < 0.4 ? '; seldom together' : '';
  return `${what}; ${clashWords(m, heard.clashes)}${little}`;
};

/**
 * The treatments of an entry, one after the other.
 * @example
 * entryTreatments({ steps: 2, change: 'inverted' }).map(t => t.kind) // => ['invert', 'transpose']
 */
export const entryTreatments = (entry: Pick<Entry, 'steps' | 'change'>): readonly Treatment[] => {
  const by: Readonly<Record<EntryChange, readonly Treatment[]>> = {
    plain: [],
    augmented: [{ kind: 'augment', factor: fraction(2) }],
    diminished: [{ kind: 'diminish', factor: fraction(2) }],
    inverted: [{ kind: 'invert', by: 'scale' }],
  };
  return [
    ...by[entry.change],
    ...(entry.steps === 0 ? [] : [{ kind: 'transpose', by: 'scale', steps: entry.steps } as const]),
  ];
};

/**
 * Delays by beat, or between beats too, from nought up to the length of the idea: halves of a beat, or the
 * quavers of a beat that has three, for that is where its notes lie.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * delaysOf(idea, plan, plan.statements[0], false).map(show) // => ['0', '1/4', '1/2', '3/4', '1']
 */
export const delaysOf = (
  motif: Motif,
  plan: Changes,
  statement: Statement,
  halves: boolean,
): readonly Fraction[] => {
  const { metre } = metreAtPlace(barringIn(motif, plan), statement.onset);
  const { length } = passageOf(motif, { ...statement, times: 1 });
  const delays: Fraction[] = [];
  for (let k = 0; ; k++) {
    const at = beatsLater(metre, ZERO, k);
    if (less(length, at)) break;
    delays.push(at);
    const beat = subtract(beatsLater(metre, ZERO, k + 1), at);
    const parts = beat.n % 3 === 0 ? 3 : 2;
    for (let part = 1; halves && part < parts; part++) {
      const between = add(at, multiply(beat, fraction(part, parts)));
      if (!less(length, between)) delays.push(between);
    }
    if (delays.length > 200) break;
  }
  return delays;
};

/**
 * Every entry of the idea in another part: delayed, moved by steps, and plain or changed, with how it
 * sounds against all that the other parts play. Nothing is chosen: it is a map.
 * @param instrument what the entering part is played on: its octave is heard
 * @param part the entering part, which is not listened to; undefined for a new one
 */
export const entriesFor = (
  motif: Motif,
  plan: Plan,
  leader: Statement,
  instrument: InstrumentId,
  part: string | undefined,
  options: { readonly halves: boolean; readonly changes: readonly EntryChange[] },
): readonly Entry[] => {
  const barring = barringIn(motif, plan);
  const weightOf = weightsOf(barring);
  const others: readonly (readonly Sounding[])[] = plan.parts
    .filter(p => p.id !== part)
    .map(p =>
      statementsOf(plan, p.id)
        .flatMap(s => notesOfStatement(motif, s, plan))
        .map(n => ({
          from: ticksOf(n.onset),
          to: ticksOf(add(n.onset, n.duration)),
          pitch: midiOf(n.pitch) + INSTRUMENTS[p.instrument].soundsAbove,
        }))
        .sort((a, b) => a.from - b.from),
    );
  const beat = ticksOf(tactus(metreAtPlace(barring, leader.onset).metre));
  const up = INSTRUMENTS[instrument].soundsAbove;
  const base = passageOf(motif, { ...leader, times: 1 });
  const delays = delaysOf(motif, plan, leader, options.halves);
  const inForce = keysInForce(motif, plan);
  return options.changes.flatMap(change =>
    Array.from({ length: 15 }, (_, i) => i - 7).flatMap(steps => {
      const passage = applyChain(base, motif.key, entryTreatments({ steps, change }));
      const lineAt = (at: Fraction): readonly Sounding[] =>
        notesOfPassage(motif.key, passage, at, 1, '', inForce)
          .map(n => ({
            from: ticksOf(n.onset),
            to: ticksOf(add(n.onset, n.duration)),
            pitch: midiOf(n.pitch) + up,
          }))
          .sort((a, b) => a.from - b.from);
      const line = lineAt(leader.onset);
      return delays.map((delay): Entry => {
        const shift = ticksOf(delay);
        // In one key it is the same line, later; where the key changes it depends on where it enters.
        const moved =
          inForce.length > 1
            ? lineAt(add(leader.onset, delay))
            : line.map(n => ({ ...n, from: n.from + shift, to: n.to + shift }));
        const heard = hear(moved, others, weightOf, beat);
        return {
          delay,
          steps,
          change,
          score: heard.score,
          together: heard.together,
          doubling: heard.doubling,
          clashes: heard.clashes.map(tick => placeWords(barring, tick)),
          sentence: sentenceOf(barring, heard),
        };
      });
    }),
  );
};
