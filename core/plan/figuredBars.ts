import { barStart, type MetreInForce, type MetresInForce } from '../foundation/barring.ts';
import {
  add,
  atMost,
  ceil,
  divide,
  type Fraction,
  floor,
  larger,
  less,
  smaller,
  subtract,
  times,
} from '../foundation/fraction.ts';
import { barLength, type Metre, sameMetre } from '../foundation/metre.ts';
import { applyChain } from '../motif/apply.ts';
import type { Motif, Passage } from '../motif/motif.ts';
import type { Treatment } from '../motif/treatment.ts';
import { type Accompaniment, accompanimentPassage } from './accompaniment.ts';

/** A bar of a figure: where its barline stands, and its notes from there on. */
export interface FiguredBar {
  readonly at: Fraction;
  readonly passage: Passage;
}

/** What is asked of a statement: it plays an accompaniment, unless its notes were changed by hand. */
interface Playing {
  readonly onset: Fraction;
  readonly times: number;
  readonly chain: readonly Treatment[];
  readonly accompaniment?: Accompaniment;
  readonly detached?: unknown;
}

/** A stretch of a piece, in semibreves. */
interface Stretch {
  readonly from: Fraction;
  readonly to: Fraction;
}

/** What moves pitches and leaves a figure what it is. A fragment only says how far it goes. */
const ONLY_PITCHES: readonly Treatment['kind'][] = ['transpose', 'octave', 'invert', 'fragment'];

/** What of a bar sounds within a stretch: cut at its end, and struck at its beginning where it would sound on. */
const within = (at: Fraction, passage: Passage, { from, to }: Stretch): Passage => ({
  ...passage,
  notes: passage.notes.flatMap(note => {
    const starts = larger(add(at, note.onset), from);
    const ends = smaller(add(at, add(note.onset, note.duration)), to);
    return less(starts, ends)
      ? [{ ...note, onset: subtract(starts, at), duration: subtract(ends, starts) }]
      : [];
  }),
});

/** The bars of so much length from a place on that a stretch touches. */
const barsIn = (from: Fraction, length: Fraction, stretch: Stretch): readonly Fraction[] => {
  const first = floor(divide(subtract(stretch.from, from), length));
  const after = ceil(divide(subtract(stretch.to, from), length));
  return Array.from({ length: Math.max(0, after - first) }, (_, i) => add(from, times(length, first + i)));
};

/**
 * The bars of a drone or a chord over which another metre begins: from there on its figure is that of the new bars, for as
 * long as it lasted. Undefined where every bar is in the metre it was made for, and for what is no figure (any more): an
 * ending, notes changed by hand, what was made slower, faster or back to front.
 * @param own one time through as it was made
 * @param barring of its piece
 */
export const figuredBars = (
  motif: Pick<Motif, 'key' | 'metre'>,
  statement: Playing,
  own: Passage,
  barring: MetresInForce,
): readonly FiguredBar[] | undefined => {
  const { accompaniment: what, onset, chain } = statement;
  if (what === undefined || what.kind === 'ending' || statement.detached !== undefined) return undefined;
  if (own.length.n <= 0 || !chain.every(t => ONLY_PITCHES.includes(t.kind))) return undefined;
  const made = what.metre ?? motif.metre;
  const whole: Stretch = { from: onset, to: add(onset, times(own.length, statement.times)) };
  const stretches = barring.map((inForce, i): Stretch & { inForce: MetreInForce } => {
    const next = barring[i + 1];
    return {
      inForce,
      // An upbeat is in the first metre.
      from: i === 0 ? whole.from : larger(inForce.from, whole.from),
      to: next === undefined ? whole.to : smaller(next.from, whole.to),
    };
  });
  const touched = stretches.filter(s => less(s.from, s.to));
  if (touched.every(s => sameMetre(s.inForce.metre, made))) return undefined;
  const pitches = chain.filter(t => t.kind !== 'fragment');
  const figureIn = (metre: Metre): Passage =>
    applyChain(accompanimentPassage(motif.key, motif.metre, { ...what, metre }), motif.key, pitches);
  return touched
    .flatMap(({ inForce: { metre, bar }, from, to }) => {
      const isOwn = sameMetre(metre, made);
      const passage = isOwn ? own : figureIn(metre);
      const start = isOwn ? onset : barStart(barring, bar);
      const length = isOwn ? own.length : barLength(metre);
      return barsIn(start, length, { from, to }).map(at => ({
        at,
        passage: within(at, passage, { from, to }),
      }));
    })
    .filter(bar => bar.passage.notes.length > 0 && atMost(bar.at, whole.to));
};
