import { equal } from '../foundation/fraction.ts';
import { midiOf } from '../foundation/pitch.ts';
import type { PlacedNote } from '../plan/placed.ts';
import type { Span } from './spans.ts';

/** Where the lines of glissandi end. */
export interface GlissEnds {
  /** Notes whose line leads to the next note. */
  readonly led: ReadonlySet<PlacedNote>;
  /** The notes to which lines lead. */
  readonly ends: ReadonlySet<PlacedNote>;
}

/**
 * A line leads to the note that begins as its own ends and has the pitch where it ends, unless grace notes come before
 * that or another line leads there; every other line ends with a small head of its own.
 * @param spans in order
 */
export const glissEnds = (spans: readonly Span[]): GlissEnds => {
  const led = new Set<PlacedNote>();
  const ends = new Set<PlacedNote>();
  spans.forEach((span, i) => {
    const next = spans[i + 1];
    if (next === undefined || !equal(next.from, span.to)) return;
    for (const note of span.notes) {
      const { gliss } = note;
      const end = next.notes.find(n => gliss !== undefined && midiOf(n.pitch) === midiOf(gliss.to));
      // Of two lines to one note the second ends on its own, for a note ends one line.
      if (end === undefined || end.grace !== undefined || ends.has(end)) continue;
      led.add(note);
      ends.add(end);
    }
  });
  return { led, ends };
};
