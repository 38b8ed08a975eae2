import { compare, equal, add } from '../../../core/foundation/fraction.ts';
import { failed } from '../../../core/foundation/result.ts';
import type { Edit } from '../../../core/piece/edit.ts';
import { isLine, lineAround, strokesOfGliss } from '../../../core/piece/glissEdits.ts';
import { corrected } from '../../../core/piece/piece.ts';
import type { ReadNote } from '../../../core/reading/model/reading.ts';
import type { Command } from '../command.ts';
import { nameOf } from './corrections.ts';
import { selectNotes } from './settings.ts';
import { edit } from './step.ts';

/**
 * Writes the chosen notes as a glissando, or the first of them with those around it that are a line; a glissando as its
 * strokes. The last of them stays a note, to which the line leads, where it is longer than the others, or one of two.
 * Problems: 'bad-request' where a line has more strokes than can be written, or the notes are no line.
 */
export const toggleGliss: Command<[strikes: readonly number[]]> = (desk, strikes) => {
  const now = desk.document.history?.present.piece;
  const page = now === undefined ? undefined : corrected(now);
  const own = page?.notes.filter(n => strikes.includes(n.strike)) ?? [];
  const [note] = own;
  if (now === undefined || page === undefined || note === undefined) return { ok: true, value: desk };
  if (note.gliss !== undefined) {
    if (strokesOfGliss(note) === undefined) return TOO_MANY;
    return edit(desk, `write out the glissando from ${nameOf(now, note)}`, {
      kind: 'ungliss',
      note: note.strike,
    });
  }
  const together = new Set(own.length > 1 ? strikes : lineAround(page, now.take, note));
  const line = page.notes.filter(n => together.has(n.strike)).sort((a, b) => compare(a.onset, b.onset));
  const [first, ...more] = line;
  if (first === undefined || !isLine(line)) return NO_LINE;
  const last = more.at(-1);
  const isTarget = last !== undefined && leadsTo(line);
  const drawn = isTarget ? more.slice(0, -1) : more;
  const made: Edit = {
    kind: 'gliss',
    note: first.strike,
    more: drawn.map(n => n.strike),
    ...(isTarget ? { into: last.strike } : {}),
  };
  const done = edit(desk, `draw a glissando from ${nameOf(now, first)}`, made);
  return done.ok ? selectNotes(done.value, [first.strike]) : done;
};

/** Whether the last of these notes stays one: it begins as the one before ends, and is longer than all, or one of two. */
const leadsTo = (line: readonly ReadNote[]): boolean => {
  const last = line.at(-1);
  const before = line.at(-2);
  if (last === undefined || before === undefined) return false;
  if (!equal(add(before.onset, before.duration), last.onset)) return false;
  return line.length === 2 || line.slice(0, -1).every(n => compare(n.duration, last.duration) < 0);
};

const TOO_MANY = failed({
  kind: 'bad-request',
  what: 'This glissando has more strokes than the shortest value can say.',
  kept: 'It stays as it is written.',
  next: 'Make the note longer first, or write the page in longer values.',
});
const NO_LINE = failed({
  kind: 'bad-request',
  what: 'A glissando goes over bars one after the other, all upwards or all downwards; these notes do not.',
  kept: 'Nothing was changed.',
  next: 'Choose the notes it is drawn over, or its first and its last (Shift and the arrows choose several).',
});
