import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { show } from '../../../core/foundation/fraction.ts';
import { keyName } from '../../../core/foundation/key.ts';
import { likelyMotif } from '../../../core/piece/motifOfReading.ts';
import { corrected, pieceScore, readingScore } from '../../../core/piece/piece.ts';
import { textScore } from '../../../core/exchange/textScore.ts';
import type { Score } from '../../../core/score/score.ts';
import { growNow } from '../../../renderer/desk/commands/trial.ts';
import { asStruck, isRhythmOnly } from '../../../core/piece/rhythmOnly.ts';
import { readTake } from '../../../core/reading/read.ts';
import {
  addPitch,
  beginPitching,
  leavePitching,
  pitchingNow,
  takeBackPitch,
  writePitches,
} from '../../../renderer/desk/commands/pitching.ts';
import { chooseReading } from '../../../renderer/desk/commands/reading.ts';
import { strike } from '../../../renderer/desk/commands/playing.ts';
import { selectNotes } from '../../../renderer/desk/commands/settings.ts';
import { redoStep, undoStep } from '../../../renderer/desk/commands/step.ts';
import { openEntry } from '../../../renderer/desk/commands/open.ts';
import { fromSafe, toSafe } from '../../../renderer/desk/safe.ts';
import { type DeskState, FIRST_DESK } from '../../../renderer/desk/state.ts';
import { complain } from '../../../renderer/desk/commands/messages.ts';
import { asked } from '../asked.ts';
import { after, pieceOf, pieceOn, takeOf, THRICE, withPiece } from '../pieces.ts';

/** Two bars on one key of a keyboard: a syncopated rhythm. */
const ONE_KEY = takeOf('one-key', [0, 1, 1.5, 2.5, 3, 4, 5, 6], Array(8).fill(60));
const start = withPiece(pieceOf(ONE_KEY));
const struck = (desk: DeskState, pitches: readonly number[]): DeskState =>
  pitches.reduce((so, pitch) => after(so, addPitch, pitch), after(desk, beginPitching));
const pitchesOf = (desk: DeskState) => asStruck(corrected(pieceOn(desk))).map(note => note.pitch);
const rhythmOf = (desk: DeskState) =>
  asStruck(corrected(pieceOn(desk))).map(
    note => `${show(note.onset)} ${show(note.duration)} ${String(note.strike)}`,
  );
const TUNE = [72, 76, 79, 76, 74, 72, 71, 72];

describe('a rhythm struck on one key', () => {
  it('is one, until it has pitches', () => {
    expect(isRhythmOnly(corrected(pieceOn(start)))).toBe(true);
    expect(isRhythmOnly(corrected(pieceOn(after(struck(start, TUNE), writePitches))))).toBe(false);
    expect(isRhythmOnly(corrected(pieceOn(withPiece())))).toBe(false);
    // Two strokes on one bar are an idea that happens to be short.
    expect(isRhythmOnly({ notes: corrected(pieceOn(start)).notes.slice(0, 2) })).toBe(false);
  });

  it('gets the bars struck as its pitches, in order, in one step; the rhythm and the take stay', () => {
    const given = after(struck(start, TUNE), writePitches);
    expect(pitchesOf(given)).toEqual(TUNE);
    expect(rhythmOf(given)).toEqual(rhythmOf(start));
    expect(pieceOn(given).take).toBe(pieceOn(start).take);
    expect(given.session.pitching).toBeUndefined();
    const back = after(given, undoStep);
    expect(pieceOn(back)).toBe(pieceOn(start));
    expect(pitchesOf(after(back, redoStep))).toEqual(TUNE);
  });

  it('is as long as what comes again: bars alike in rhythm alone are no repeat once they have pitches', () => {
    const twice = takeOf('twice', [0, 1, 2, 2.5, 3.5, 4, 5, 6, 6.5, 7.5], Array(10).fill(60));
    const begun = withPiece(pieceOf(twice));
    const ofMotif = (pitches: readonly number[]) =>
      likelyMotif(corrected(pieceOn(after(struck(begun, pitches), writePitches))));
    expect(likelyMotif(corrected(pieceOn(begun)))).toEqual({ from: 1, to: 1, closed: true });
    expect(ofMotif([72, 76, 79, 76, 74, 72, 76, 79, 76, 74])).toEqual({ from: 1, to: 1, closed: true });
    expect(ofMotif([72, 76, 79, 76, 74, 72, 72, 76, 79, 84])).toEqual({ from: 1, to: 2, closed: true });
  });

  it('comes again after as many bars as its rhythm does, not sooner', () => {
    const twoBars = [0, 1, 2, 2.5, 3.5, 4, 6, 7];
    const begun = withPiece(
      pieceOf(takeOf('two', [...twoBars, ...twoBars.map(at => at + 8)], Array(16).fill(60), 4)),
    );
    expect(likelyMotif(corrected(pieceOn(begun)))).toEqual({ from: 1, to: 2, closed: true });
    const given = after(struck(begun, [...TUNE, ...TUNE]), writePitches);
    expect(likelyMotif(corrected(pieceOn(given)))).toEqual({ from: 1, to: 2, closed: true });
  });

  it('an idea that had its pitches stays as long as it was when one of a repeat is corrected', () => {
    const thrice = pieceOf(THRICE);
    const edited = { ...thrice, edits: [{ kind: 'pitch' as const, note: 5, pitch: 79 }] };
    expect(likelyMotif(corrected(thrice))).toEqual({ from: 1, to: 1, closed: true });
    expect(likelyMotif(corrected(edited))).toEqual({ from: 1, to: 1, closed: true });
  });

  it('law: whatever bars are struck, with any of them taken back and struck again', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 127 }), { minLength: 8, maxLength: 8 }),
        fc.array(fc.integer({ min: 0, max: 127 }), { maxLength: 5 }),
        (tune, wrong) => {
          const wandered = wrong.reduce(
            (so, pitch) => after(after(so, addPitch, pitch), takeBackPitch),
            struck(start, tune.slice(0, 3)),
          );
          const all = tune.slice(3).reduce((so, pitch) => after(so, addPitch, pitch), wandered);
          const given = after(all, writePitches);
          expect(pitchesOf(given)).toEqual(tune);
          expect(rhythmOf(given)).toEqual(rhythmOf(start));
        },
      ),
    );
  });

  it.each([
    [7, 'Seven bars were struck, and there are eight notes.'],
    [1, 'One bar was struck, and there are eight notes.'],
    [9, 'Nine bars were struck, and there are eight notes.'],
    [14, '14 bars were struck, and there are eight notes.'],
  ])('%i bars for its eight notes are said, nothing is changed, and they still count', (count, what) => {
    const tune = Array.from({ length: count }, (_, i) => 60 + i);
    const all = struck(start, tune);
    const written = writePitches(all);
    expect(written).toMatchObject({ ok: false, problem: { what } });
    expect(pitchingNow(all)).toEqual(tune);
    expect(pieceOn(all)).toBe(pieceOn(start));
    const told = after(all, complain, { kind: 'unexpected', what, kept: '', next: '' });
    expect(after(told, addPitch, 60).live.problem).toBeUndefined();
  });

  it('keeps them when it is written another way, which corrections of a way to write do not outlast', () => {
    const [, other] = readTake(ONE_KEY, {});
    if (other === undefined) throw new Error('one way only');
    const given = after(struck(start, TUNE), writePitches);
    const { desk } = asked(given, chooseReading, other, pieceOn(given).hints);
    expect(corrected(pieceOn(desk)).notes.map(n => [n.strike, n.pitch])).toEqual(
      other.notes.map(n => [n.strike, TUNE[n.strike]]),
    );
    expect(rhythmOf(desk)).not.toEqual(rhythmOf(start));
  });

  it('is written in a key that suits them, unless one was chosen or the motif is in use', () => {
    const inA = TUNE.map(pitch => pitch + 9);
    expect(keyName(pieceOn(after(struck(start, inA), writePitches)).key)).toBe('A major');
    const chosen = withPiece({ ...pieceOf(ONE_KEY), keyChosen: true });
    const used = withPiece({ ...pieceOf(ONE_KEY), motifBars: { from: 0, to: 1 } });
    for (const desk of [chosen, used])
      expect(pieceOn(after(struck(desk, inA), writePitches)).key).toEqual(pieceOn(desk).key);
  });

  it('has one line on the page of Write, in Grow and in words, until it has pitches; a part given several has five', () => {
    const linesOf = (score: Score) => score.parts.map(part => part.lines ?? 5);
    const rhythm = pieceOn(start);
    expect(linesOf(readingScore(rhythm))).toEqual([1]);
    expect(linesOf(pieceScore(rhythm))).toEqual([1]);
    expect(textScore(pieceScore(rhythm)).join(' ')).not.toMatch(/[A-G]\d/);
    const given = pieceOn(after(struck(start, TUNE), writePitches));
    expect([...linesOf(readingScore(given)), ...linesOf(pieceScore(given))]).toEqual([5, 5]);
    // The motif of an idea may lie on one bar alone: that is no rhythm.
    const flat = after(struck(start, [72, 72, 72, 72, 72, 74, 71, 72]), writePitches);
    expect(linesOf(pieceScore({ ...pieceOn(flat), motifBars: { from: 1, to: 1 } }))).toEqual([5]);
    const sequence = after(start, growNow, 'sequence', {
      kind: 'sequence',
      statement: 's1',
      copies: 2,
      steps: 1,
    });
    expect(linesOf(pieceScore(pieceOn(sequence)))).toEqual([5]);
  });

  it('left, it is as it was; what is struck for it is no new idea, and nothing stays chosen', () => {
    const chosen = after(start, selectNotes, [0, 1]);
    const begun = struck(chosen, [72]);
    expect(begun.session.selectedNotes).toEqual([]);
    const heard = { at: 9, pitch: 72, velocity: 90, device: 'pad', name: 'Pad', source: 'midi' } as const;
    expect(after(begun, strike, heard).live.memory.strikes.at(-1)?.along).toBe(true);
    const left = after(begun, leavePitching);
    expect(pitchingNow(left)).toBeUndefined();
    expect(pieceOn(left)).toBe(pieceOn(start));
    expect(after(left, strike, heard).live.memory.strikes.at(-1)?.along).toBeUndefined();
    // Struck at any other time, nothing counts.
    expect(after(left, addPitch, 72)).toBe(left);
    expect(after(left, takeBackPitch)).toBe(left);
    expect(after(left, writePitches)).toBe(left);
  });

  it('left in the middle or reloaded, the bars struck so far still count; those of another piece do not', () => {
    const begun = struck(start, [72, 76]);
    const reloaded = fromSafe(FIRST_DESK, structuredClone(toSafe(begun, 0)), 0);
    expect(reloaded === undefined ? undefined : pitchingNow(reloaded)).toEqual([72, 76]);
    const left = after(begun, leavePitching);
    expect(left.live.notice).toBe('The two bars you struck wait here.');
    expect(after(struck(start, [72]), leavePitching).live.notice).toContain(
      'The one bar you struck waits here.',
    );
    expect(after(left, leavePitching)).toBe(left);
    expect(pitchingNow(struck(left, [79]))).toEqual([72, 76, 79]);
    // Nothing struck, nothing waits.
    expect(after(after(start, beginPitching), leavePitching).session.pitching).toBeUndefined();
    const other = pieceOf(takeOf('other', [0, 1, 1.5, 2.5], Array(4).fill(60)));
    const elsewhere = after(begun, openEntry, { id: other.id, revision: 'r1', piece: other });
    expect(pitchingNow(elsewhere)).toBeUndefined();
    expect(after(elsewhere, addPitch, 72)).toBe(elsewhere);
    expect(pitchingNow(after(elsewhere, beginPitching))).toEqual([]);
    // Come back to, the piece asks for nothing by itself: bars struck in Play are music.
    const back = after(elsewhere, openEntry, {
      id: pieceOn(start).id,
      revision: 'r1',
      piece: pieceOn(start),
    });
    expect(pitchingNow(back)).toBeUndefined();
    expect(pitchingNow(after(back, beginPitching))).toHaveLength(pitchingNow(begun)?.length ?? -1);
    // Written in, they are over.
    const given = after(struck(start, TUNE), writePitches);
    expect(pitchingNow(after(after(given, undoStep), beginPitching))).toEqual([]);
  });
});
