import { equal, type Fraction } from '../../../core/foundation/fraction.ts';
import { failed } from '../../../core/foundation/result.ts';
import type { Edit } from '../../../core/piece/edit.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import { corrected } from '../../../core/piece/piece.ts';
import type { Pin } from '../../../core/piece/rereading.ts';
import { strokesAround, strokesOfRoll } from '../../../core/piece/rollEdits.ts';
import { type Reading, type ReadNote, signStrokes } from '../../../core/reading/model/reading.ts';
import type { Command } from '../command.ts';
import { nameOf } from './corrections.ts';
import { selectNotes } from './settings.ts';
import { edit } from './step.ts';

/**
 * Writes the first of the chosen notes as a roll, with the strokes around it that are its own, or with the other
 * chosen notes; a roll as its strokes. Problems: 'bad-request' where a roll has more strokes than can be written, or
 * would be on more than two bars.
 */
export const toggleRoll: Command<[strikes: readonly number[]]> = (desk, strikes) => {
  const now = desk.document.history?.present.piece;
  const page = now === undefined ? undefined : corrected(now);
  const own = page?.notes.filter(n => strikes.includes(n.strike)) ?? [];
  const [note] = own;
  if (now === undefined || page === undefined || note === undefined) return { ok: true, value: desk };
  if (note.roll !== undefined) {
    if (strokesOfRoll(page, note) === undefined) return TOO_MANY;
    return edit(desk, `write out the roll on ${nameOf(now, note)}`, { kind: 'unroll', note: note.strike });
  }
  const together = own.length > 1 ? own.map(n => n.strike) : strokesAround(page, now.take, note);
  if (new Set(page.notes.filter(n => together.includes(n.strike)).map(n => n.pitch)).size > 2)
    return TOO_MANY_BARS;
  const made: Edit = { kind: 'roll', note: note.strike, more: together.filter(s => s !== note.strike) };
  const done = edit(desk, `roll ${nameOf(now, note)}`, made);
  const after = done.ok ? done.value.document.history?.present.piece : undefined;
  const rolled = after && corrected(after).notes.find(n => n.roll?.includes(note.strike));
  return done.ok && rolled !== undefined ? selectNotes(done.value, [rolled.strike]) : done;
};

const TOO_MANY = failed({
  kind: 'bad-request',
  what: 'This roll has more strokes than the shortest value can say.',
  kept: 'It stays as it is written.',
  next: 'Make the note longer first, or write the page in longer values.',
});
const TOO_MANY_BARS = failed({
  kind: 'bad-request',
  what: 'A roll is struck on one bar, or on two in turn; these notes are on more.',
  kept: 'Nothing was changed.',
  next: 'Choose notes on one bar or on two.',
});

const noteAt = (page: Reading, strike: number): Reading['notes'][number] | undefined =>
  page.notes.find(n => n.strike === strike);

const hasSign = (note: ReadNote | undefined): boolean =>
  note !== undefined && signStrokes(note) !== undefined;

/**
 * Pins with those that keep the other strokes of a roll or a glissando where they were written out by hand: the reader takes a roll
 * apart as soon as one of its strokes is put somewhere, and the page has places for them all.
 */
export const withStrokes = (now: Piece, page: Reading, pins: readonly Pin[]): readonly Pin[] => {
  const own = new Set(pins.map(p => p.strike));
  const apart = now.reading.notes.flatMap(n => {
    const strokes = signStrokes(n) ?? [];
    return strokes.some(s => own.has(s)) && !hasSign(noteAt(page, n.strike))
      ? strokesAt(page, n.onset, now.reading)
      : [];
  });
  const more = apart.flatMap(strike => {
    const onset = own.has(strike) ? undefined : noteAt(page, strike)?.onset;
    return onset === undefined ? [] : [{ strike, onset }];
  });
  return [...pins, ...more];
};

/** The strokes of all that is rolled or drawn at one place: of two bars in turn, both. */
const strokesAt = (page: Reading, onset: Fraction, reading: Reading): readonly number[] =>
  [...new Set(reading.notes.filter(n => equal(n.onset, onset)).flatMap(n => signStrokes(n) ?? []))].filter(
    strike => noteAt(page, strike) !== undefined,
  );

/** Whether some of these notes were made rolls or glissandi by hand: the reader knows only their strokes. */
export const areRolledByHand = (now: Piece, page: Reading, strikes: readonly number[]): boolean =>
  strikes.some(s => hasSign(noteAt(page, s)) && !hasSign(noteAt(now.reading, s)));
