import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { add, equal, fraction, show } from '../../../core/foundation/fraction.ts';
import { corrected } from '../../../core/piece/piece.ts';
import type { ReadNote } from '../../../core/reading/model/reading.ts';
import {
  addNote,
  lengthen,
  makeLength,
  makeLetter,
  makePitch,
  raise,
  remove,
  respell,
  selectNeighbour,
} from '../../../renderer/desk/commands/corrections.ts';
import { selectNotes } from '../../../renderer/desk/commands/settings.ts';
import { undoStep } from '../../../renderer/desk/commands/step.ts';
import { type DeskState, withSession } from '../../../renderer/desk/state.ts';
import { after, EMPTY, lastStep, pieceOf, pieceOn, stepsOf, withPiece } from '../pieces.ts';

/** Two bars of 4/4: crotchets C D E F, then minims G and C. */
const chosen = (...strikes: number[]): DeskState => after(withPiece(), selectNotes, strikes);
const notesOf = (desk: DeskState): readonly ReadNote[] => corrected(pieceOn(desk)).notes;
const note = (desk: DeskState, strike: number): ReadNote => {
  const found = notesOf(desk).find(n => n.strike === strike);
  if (found === undefined) throw new Error(`no note ${String(strike)}`);
  return found;
};
const pitches = (desk: DeskState): readonly number[] => notesOf(desk).map(n => n.pitch);

describe('pitches', () => {
  it('a degree up and down, of every chosen note, each a step', () => {
    const up = after(chosen(2, 3), raise, 1);
    // In C major from E and F to F and G.
    expect(pitches(up)).toEqual([72, 74, 77, 79, 79, 84]);
    expect([stepsOf(up), lastStep(up)]).toEqual([2, 'F5 to G5']);
    expect(pitches(after(up, raise, -1))).toEqual([72, 74, 76, 77, 79, 84]);
  });

  it('a letter is written in the nearest octave', () => {
    expect(pitches(after(chosen(0), makeLetter, 'B'))[0]).toBe(71);
    expect(pitches(after(chosen(0), makeLetter, 'G'))[0]).toBe(67);
    expect(pitches(after(chosen(0), makeLetter, 'F'))[0]).toBe(77);
    expect(stepsOf(after(chosen(0), makeLetter, 'C'))).toBe(0);
  });

  it('a letter is the one of the key: F in G major is F sharp', () => {
    const piece = { ...pieceOf(), key: { tonic: { letter: 'G', alter: 0 }, mode: 'major' } as const };
    const desk = after(withPiece(piece), selectNotes, [1]);
    expect(pitches(after(desk, makeLetter, 'F'))[1]).toBe(78);
    const flat = { ...pieceOf(), key: { tonic: { letter: 'F', alter: 0 }, mode: 'major' } as const };
    expect(pitches(after(after(withPiece(flat), selectNotes, [0]), makeLetter, 'B'))[0]).toBe(70);
  });

  it('outside MIDI, or the same, is nothing', () => {
    const desk = chosen(0);
    for (const pitch of [-1, 128, 72]) expect(after(desk, makePitch, note(desk, 0), pitch)).toBe(desk);
    expect(pitches(after(desk, makePitch, note(desk, 0), 0))[0]).toBe(0);
    expect(pitches(after(desk, makePitch, note(desk, 0), 127))[0]).toBe(127);
  });
});

describe('lengths', () => {
  it('longer and shorter say so, and nothing is shorter than nothing', () => {
    const desk = chosen(5);
    const longer = after(desk, makeLength, note(desk, 5), fraction(3, 4));
    expect([show(note(longer, 5).duration), lastStep(longer)]).toEqual(['3/4', 'make C6 longer']);
    expect(lastStep(after(desk, makeLength, note(desk, 5), fraction(1, 4)))).toBe('make C6 shorter');
    expect(after(desk, makeLength, note(desk, 5), fraction(0))).toBe(desk);
    expect(after(desk, makeLength, note(desk, 5), fraction(-1, 4))).toBe(desk);
  });

  it('a grid unit longer and shorter again is the page as it was', () => {
    const desk = chosen(5);
    const longer = after(desk, lengthen, 1);
    expect(show(note(longer, 5).duration)).not.toBe(show(note(desk, 5).duration));
    const back = after(after(desk, lengthen, -1), lengthen, 1);
    expect(show(note(back, 5).duration)).toBe(show(note(desk, 5).duration));
  });
});

describe('notes taken away and added', () => {
  it('deleted, the note before runs on; as a rest, it does not', () => {
    const deleted = after(chosen(1), remove, 'delete');
    const rested = after(chosen(1), remove, 'rest');
    expect([lastStep(deleted), lastStep(rested)]).toEqual(['delete D5', 'rest for D5']);
    expect([show(note(deleted, 0).duration), show(note(rested, 0).duration)]).toEqual(['1/2', '1/4']);
    for (const desk of [deleted, rested]) {
      expect(notesOf(desk).some(n => n.strike === 1)).toBe(false);
      expect(desk.session.selectedNotes).toEqual([]);
    }
  });

  it('a note is added in the second half of the chosen one, at its pitch, and is chosen', () => {
    const desk = after(chosen(4), addNote);
    const [added] = notesOf(desk).filter(n => n.strike < 0);
    expect(added).toMatchObject({ strike: -1, pitch: 79 });
    expect([show(added?.onset ?? fraction(0)), show(added?.duration ?? fraction(0))]).toEqual(['5/4', '1/4']);
    expect(desk.session.selectedNotes).toEqual([-1]);
    const twice = after(desk, addNote);
    expect(
      notesOf(twice)
        .filter(n => n.strike < 0)
        .map(n => n.strike),
    ).toEqual([-1, -2]);
  });

  it('with nothing chosen it is added at the end of the line', () => {
    const desk = after(chosen(), addNote);
    const last = note(withPiece(), 5);
    const added = note(desk, -1);
    expect(equal(added.onset, add(last.onset, last.duration))).toBe(true);
    expect([added.pitch, lastStep(desk)]).toEqual([84, 'add a note']);
    expect(after(EMPTY, addNote)).toBe(EMPTY);
  });

  it('into the rest after the chosen note where there is one', () => {
    const rested = after(after(chosen(1), remove, 'rest'), selectNotes, [0]);
    const added = note(after(rested, addNote), -1);
    expect([show(added.onset), added.pitch]).toEqual(['1/4', 72]);
  });
});

describe('the selection', () => {
  const walk = (desk: DeskState, direction: 1 | -1, more = false): DeskState =>
    after(desk, selectNeighbour, direction, more);

  it('walks along the line and stops at its ends', () => {
    expect(walk(chosen(), 1).session.selectedNotes).toEqual([0]);
    expect(walk(chosen(), -1).session.selectedNotes).toEqual([5]);
    expect(walk(chosen(2), 1).session.selectedNotes).toEqual([3]);
    expect(walk(chosen(2), -1).session.selectedNotes).toEqual([1]);
    expect(walk(chosen(5), 1).session.selectedNotes).toEqual([5]);
    expect(walk(chosen(0), -1).session.selectedNotes).toEqual([0]);
    expect(walk(EMPTY, 1)).toBe(EMPTY);
  });

  it('with more, keeps what is chosen, the newest at the end one walks to', () => {
    expect(walk(chosen(2), 1, true).session.selectedNotes).toEqual([2, 3]);
    expect(walk(chosen(2), -1, true).session.selectedNotes).toEqual([1, 2]);
    expect(walk(chosen(3, 2), 1, true).session.selectedNotes).toEqual([2, 3]);
  });
});

it('whatever is corrected, undoing every step gives the piece back, and the desk before stays whole', () => {
  const commands = fc.constantFrom(
    (d: DeskState) => after(d, raise, 1),
    (d: DeskState) => after(d, raise, -1),
    (d: DeskState) => after(d, lengthen, 1),
    (d: DeskState) => after(d, lengthen, -1),
    (d: DeskState) => after(d, addNote),
    (d: DeskState) => after(d, remove, 'rest'),
    (d: DeskState) => after(d, makeLetter, 'A'),
    (d: DeskState) => after(d, selectNeighbour, 1),
    (d: DeskState) => after(d, selectNeighbour, -1, true),
  );
  const first = withPiece();
  fc.assert(
    fc.property(fc.array(commands, { maxLength: 12 }), all => {
      let desk = all.reduce((now, command) => command(now), withSession(first, { selectedNotes: [2] }));
      while (stepsOf(desk) > 0) desk = after(desk, undoStep);
      expect(pieceOn(desk)).toBe(pieceOn(first));
    }),
    { numRuns: 60 },
  );
});

describe('respelling', () => {
  it('gives the chosen notes their other names, each a step that can be undone', () => {
    const piece = pieceOf();
    const sharp = withPiece({ ...piece, edits: [...piece.edits, { kind: 'pitch', note: 1, pitch: 73 }] });
    const desk = after(sharp, selectNotes, [1]);
    const done = after(desk, respell);
    expect(lastStep(done)).toMatch(/^(C♯5 as D♭5|D♭5 as C♯5)$/);
    expect(pitches(done)).toEqual(pitches(desk));
    const twice = after(done, respell);
    expect(lastStep(twice)).not.toBe(lastStep(done));
    expect(notesOf(after(after(twice, undoStep), undoStep))).toEqual(notesOf(desk));
  });

  it('says so where a note has no other name, and does nothing where none is chosen', () => {
    expect(respell(chosen(1))).toMatchObject({ ok: false, problem: { kind: 'bad-request' } });
    const none = chosen();
    expect(after(none, respell)).toBe(none);
  });
});
