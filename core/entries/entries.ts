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
import { barLength, beatStarts, type Metre } from '../foundation/metre.ts';
import { midiOf } from '../foundation/pitch.ts';
import { applyChain } from '../motif/apply.ts';
import type { Motif } from '../motif/motif.ts';
import type { Treatment } from '../motif/treatment.ts';
import { consonance, type IntervalKind, isDissonant, isPerfect, kindOf } from './consonance.ts';
import { INSTRUMENTS, type InstrumentId } from '../instruments/instruments.ts';
import { beatsLater } from '../plan/beats.ts';
import type { Plan } from '../plan/plan.ts';
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
  /** -1 (rough) to 1 (smooth); 0 where nothing sounds together. */
  readonly score: number;
  /** Share of the entry's time in which it sounds with something else, 0 to 1. */
  readonly together: number;
  /** Places of strong clashes, as bars and beats from 1. */
  readonly clashes: readonly { readonly bar: BarNumber; readonly beat: number }[];
  /** "mostly thirds and sixths; clashes on beat 3 of bar 2". */
  readonly sentence: string;
}

/** Ticks to a semibreve: every value, tuplet and diminution of one falls on a whole tick. */
const TICKS = 1536;
const ticksOf = (at: Fraction): Ticks => Math.round(toNumber(at) * TICKS);

interface Sounding {
  readonly from: Ticks;
  readonly to: Ticks;
  readonly pitch: number;
}

/** A strong clash costs this much of the score, a pair of parallel fifths or octaves this much. */
const CLASH = 0.12;
const PARALLEL = 0.1;
/** A fourth over the lowest note is no rest: it counts as this. */
const FOURTH_OVER_BASS = -0.3;
/** The smoothest dyad, so that scores lie between -1 and 1. */
const SMOOTHEST = 1.5;

/** Weight of a place in the bar: 4 the barline, 3 its middle, 2 a beat, 1 anything else (our choice). */
const weightsOf = (m: Metre): ((tick: number) => number) => {
  const bar = ticksOf(barLength(m));
  const starts = beatStarts(m).map(ticksOf);
  const middle = starts.length % 2 === 0 ? starts[starts.length / 2] : undefined;
  return tick => {
    const inBar = ((tick % bar) + bar) % bar;
    if (inBar === 0) return 4;
    if (inBar === middle) return 3;
    return starts.includes(inBar) ? 2 : 1;
  };
};

const placeWords = (m: Metre, tick: number): { bar: number; beat: number } => {
  const bar = ticksOf(barLength(m));
  const inBar = ((tick % bar) + bar) % bar;
  const beat = beatStarts(m).filter(start => ticksOf(start) <= inBar).length;
  return { bar: Math.floor(tick / bar) + 1, beat };
};

interface Heard {
  readonly score: number;
  readonly together: number;
  readonly clashes: readonly number[];
  readonly kinds: ReadonlyMap<IntervalKind, number>;
}

/** How one line sounds against others: both in order of time. */
const hear = (
  line: readonly Sounding[],
  others: readonly Sounding[],
  weightOf: (tick: number) => number,
): Heard => {
  const kinds = new Map<IntervalKind, number>();
  const clashes: number[] = [];
  let sum = 0;
  let weights = 0;
  let covered = 0;
  let length = 0;
  let parallels = 0;
  let before: { own: number; other: number } | undefined;
  for (const note of line) {
    length += note.to - note.from;
    const against = others.filter(o => o.from < note.to && note.from < o.to);
    const lowest = Math.min(note.pitch, ...against.map(o => o.pitch));
    let until = note.from;
    for (const other of against) {
      const from = Math.max(note.from, other.from);
      const to = Math.min(note.to, other.to);
      const weight = (to - from) * weightOf(from);
      const low = Math.min(note.pitch, other.pitch);
      const fourth = Math.abs(note.pitch - other.pitch) % 12 === 5 && low === lowest;
      const smooth = fourth ? FOURTH_OVER_BASS : consonance(note.pitch, other.pitch);
      sum += weight * smooth;
      weights += weight;
      until = Math.max(until, to);
      const kind = kindOf(note.pitch, other.pitch);
      kinds.set(kind, (kinds.get(kind) ?? 0) + weight);
      // Struck anew on a strong place, with nothing to prepare it.
      if (isDissonant(note.pitch, other.pitch) && weightOf(from) >= 2) clashes.push(from);
    }
    covered += until - note.from;
    const struck = against.find(o => o.from === note.from);
    if (struck !== undefined) {
      const sameWay =
        before !== undefined &&
        (note.pitch - before.own) * (struck.pitch - before.other) > 0 &&
        isPerfect(before.own, before.other) &&
        isPerfect(note.pitch, struck.pitch);
      if (sameWay) parallels += 1;
      before = { own: note.pitch, other: struck.pitch };
    }
  }
  const share = length === 0 ? 0 : covered / length;
  const strong = [...new Set(clashes)].sort((a, b) => a - b);
  const mean = weights === 0 ? 0 : sum / weights / SMOOTHEST;
  const score = Math.max(-1, Math.min(1, mean - CLASH * strong.length - PARALLEL * parallels));
  return { score: weights === 0 ? 0 : score, together: share, clashes: strong, kinds };
};

const clashWords = (m: Metre, clashes: readonly number[]): string => {
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
const sentenceOf = (m: Metre, heard: Heard): string => {
  const all = [...heard.kinds].sort((a, b) => b[1] - a[1]);
  const total = all.reduce((so, [, weight]) => so + weight, 0);
  const [most, next] = all;
  if (most === undefined || total === 0) return 'nothing sounds together here';
  const share = most[1] / total;
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
 * delaysOf(idea, plan.statements[0], false).map(show) // => ['0', '1/4', '1/2', '3/4', '1']
 */
export const delaysOf = (motif: Motif, statement: Statement, halves: boolean): readonly Fraction[] => {
  const { length } = passageOf(motif, { ...statement, times: 1 });
  const delays: Fraction[] = [];
  for (let k = 0; ; k++) {
    const at = beatsLater(motif.metre, ZERO, k);
    if (less(length, at)) break;
    delays.push(at);
    const beat = subtract(beatsLater(motif.metre, ZERO, k + 1), at);
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
  const weightOf = weightsOf(motif.metre);
  const others: Sounding[] = plan.statements
    .filter(s => s.part !== part)
    .flatMap(s => {
      const on = plan.parts.find(p => p.id === s.part)?.instrument ?? 'xylophone';
      return notesOfStatement(motif, s).map(n => ({
        from: ticksOf(n.onset),
        to: ticksOf(add(n.onset, n.duration)),
        pitch: midiOf(n.pitch) + INSTRUMENTS[on].soundsAbove,
      }));
    })
    .sort((a, b) => a.from - b.from);
  const up = INSTRUMENTS[instrument].soundsAbove;
  const base = passageOf(motif, { ...leader, times: 1 });
  const delays = delaysOf(motif, leader, options.halves);
  return options.changes.flatMap(change =>
    Array.from({ length: 15 }, (_, i) => i - 7).flatMap(steps => {
      const passage = applyChain(base, motif.key, entryTreatments({ steps, change }));
      const line = notesOfPassage(motif.key, passage, leader.onset, 1, '')
        .map(n => ({
          from: ticksOf(n.onset),
          to: ticksOf(add(n.onset, n.duration)),
          pitch: midiOf(n.pitch) + up,
        }))
        .sort((a, b) => a.from - b.from);
      return delays.map((delay): Entry => {
        const shift = ticksOf(delay);
        const moved = line.map(n => ({ ...n, from: n.from + shift, to: n.to + shift }));
        const heard = hear(moved, others, weightOf);
        return {
          delay,
          steps,
          change,
          score: heard.score,
          together: heard.together,
          clashes: heard.clashes.map(tick => placeWords(motif.metre, tick)),
          sentence: sentenceOf(motif.metre, heard),
        };
      });
    }),
  );
};
