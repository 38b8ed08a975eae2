import { add, compare, equal, type Fraction, larger, less, smaller } from '../foundation/fraction.ts';
import { midiOf } from '../foundation/pitch.ts';
import type { PlacedNote } from '../plan/placed.ts';

/** Notes struck together, and the time until the next event in the same part. */
export interface Span {
  readonly from: Fraction;
  readonly to: Fraction;
  readonly notes: readonly PlacedNote[];
  /** Sounding on from before, or on into what follows, this piece of it. */
  readonly heldFrom?: boolean;
  readonly heldTo?: boolean;
}

/**
 * Joins notes into one voice: a chord lasts as long as its longest note, or to the next onset. A bar
 * struck twice at one place (a roll too fast to write, a note moved onto its like) has one head.
 */
export const spansOf = (notes: readonly PlacedNote[]): Span[] => {
  const sorted = [...notes].sort((a, b) => compare(a.onset, b.onset) || midiOf(a.pitch) - midiOf(b.pitch));
  const spans: { from: Fraction; to: Fraction; notes: PlacedNote[] }[] = [];
  for (const note of sorted) {
    const last = spans.at(-1);
    const end = add(note.onset, note.duration);
    if (last !== undefined && equal(last.from, note.onset)) {
      if (!last.notes.some(other => midiOf(other.pitch) === midiOf(note.pitch))) last.notes.push(note);
      last.to = larger(last.to, end);
    } else {
      if (last !== undefined) last.to = smaller(last.to, note.onset);
      spans.push({ from: note.onset, to: end, notes: [note] });
    }
  }
  return spans;
};

/** The spans of one bar, clipped to it, with rests between. */
export const fillBar = (spans: readonly Span[], from: Fraction, to: Fraction): Span[] => {
  const out: Span[] = [];
  let at = from;
  for (const span of spans) {
    const start = larger(span.from, from);
    const end = smaller(span.to, to);
    if (!less(start, end)) continue;
    if (less(at, start)) out.push({ from: at, to: start, notes: [] });
    out.push({
      from: start,
      to: end,
      notes: span.notes,
      heldFrom: less(span.from, start),
      heldTo: less(end, span.to),
    });
    at = end;
  }
  if (less(at, to)) out.push({ from: at, to, notes: [] });
  return out;
};
