import { describe, expect, it } from 'vitest';
import { textScore } from '../../../core/exchange/textScore.ts';
import { corrected, motifOf, pieceScore, readingScore } from '../../../core/piece/piece.ts';
import { metre } from '../../../core/foundation/metre.ts';
import { composingLog } from '../../../core/evidence/composingLog.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import { goOnWithMotif, startPiece } from '../../../renderer/desk/commands/open.ts';
import { setMotif } from '../../../renderer/desk/commands/motifs.ts';
import { cutOfNotes } from '../../../core/piece/motifOfReading.ts';
import { move } from '../../../renderer/desk/commands/pins.ts';
import { firstBeat, givesClickBack, hint } from '../../../renderer/desk/commands/reading.ts';
import { asked, askOf } from '../asked.ts';
import { after, EMPTY, lastStep, pieceOn, takeOf } from '../pieces.ts';

/** G | C E G G | C E G G | C E G, struck to a click from its fourth beat on. */
const UPBEAT = takeOf(
  'upbeat',
  Array.from({ length: 12 }, (_, i) => i + 3),
  Array.from({ length: 12 }, (_, i) => [67, 72, 76, 79][i % 4] ?? 67),
  4,
);

const caught = (take = UPBEAT): DeskState =>
  asked(EMPTY, startPiece, { take, title: 'Idea', id: 'idea', pupil: undefined }).desk;
const page = (desk: DeskState): string =>
  textScore(readingScore(pieceOn(desk)), 'british')
    .slice(2)
    .join(' / ');

const WITH_UPBEAT =
  'Upbeat: G4 crotchet / Bar 1: C5 crotchet; E5 crotchet; G5 crotchet; G4 crotchet / ' +
  'Bar 2: C5 crotchet; E5 crotchet; G5 crotchet; G4 crotchet / Bar 3: C5 crotchet; E5 crotchet; G5 crotchet; crotchet rest';
const WITH_RESTS = 'Bar 1: minim rest; crotchet rest; G4 crotchet / Bar 2: C5 crotchet;';

describe('an idea with an upbeat, struck to a click', () => {
  it('is written with its upbeat, and so is its motif', () => {
    const desk = caught();
    expect(page(desk)).toBe(WITH_UPBEAT);
    const grown = textScore(pieceScore(pieceOn(desk)), 'british')
      .slice(2)
      .join(' / ');
    expect(grown).toBe('Upbeat: G4 crotchet / Bar 1: C5 crotchet; E5 crotchet; G5 crotchet');
    expect(motifOf(pieceOn(desk)).notes).toHaveLength(4);
  });

  it('nobody is said to have set the first beat, until somebody does', () => {
    const words = (desk: DeskState): string =>
      composingLog(pieceOn(desk), iso => iso)
        .map(entry => entry.words)
        .join(' ');
    expect(words(caught())).not.toContain('first beat');
    expect(words(asked(caught(), firstBeat, [0]).desk)).toContain('The first beat was set.');
  });

  it('said again of the note on the first barline, the click has its barline back, with rests', () => {
    const desk = asked(caught(), firstBeat, [1]).desk;
    expect(page(desk)).toContain(WITH_RESTS);
    expect(lastStep(desk)).toBe('first beat as the click has it');
    // And once more: the upbeat again.
    expect(page(asked(desk, firstBeat, [1]).desk)).toBe(WITH_UPBEAT);
  });

  it('only the note on the first barline gives the click its barline back, and only where it was taken', () => {
    const desk = caught();
    expect([0, 1, 2].map(strike => givesClickBack(pieceOn(desk), [strike]))).toEqual([false, true, false]);
    const rests = asked(desk, firstBeat, [1]).desk;
    expect([0, 1, 2].map(strike => givesClickBack(pieceOn(rests), [strike]))).toEqual([false, false, false]);
    const free = asked(desk, hint, 'played freely', { free: true }).desk;
    expect(givesClickBack(pieceOn(asked(free, firstBeat, [1]).desk), [1])).toBe(false);
    expect([givesClickBack(pieceOn(desk), []), givesClickBack(undefined, [1])]).toEqual([false, false]);
  });

  it('said of a note that the click has on its first barline it is no step', () => {
    const plain = takeOf('plain', [0, 1, 2, 3, 4], [67, 72, 76, 79, 72], 2);
    expect(askOf(caught(plain), firstBeat, [0])).toBeUndefined();
    expect(askOf(caught(plain), firstBeat, [1])).toBeDefined();
  });

  it('what else is asked of the reader leaves it; played freely the click told nothing', () => {
    const desk = caught();
    const swung = asked(desk, hint, 'swing', { swingTolerance: 'high' }).desk;
    expect(page(swung)).toBe(WITH_UPBEAT);
    const free = asked(desk, hint, 'played freely', { free: true }).desk;
    expect(pieceOn(free).hints.firstBeatStrike).toBeUndefined();
    const back = asked(free, hint, 'to the click', { free: false }).desk;
    expect(page(back)).toBe(WITH_UPBEAT);
    // A first beat that the teacher chose is the teacher's, whatever the click.
    const chosen = asked(desk, firstBeat, [2]).desk;
    const freely = asked(chosen, hint, 'played freely', { free: true }).desk;
    expect(pieceOn(freely).hints.firstBeatStrike).toBe(2);
    // There is no click's barline to go back to.
    expect(pieceOn(asked(freely, firstBeat, [2]).desk).hints.firstBeatStrike).toBe(2);
    expect(pieceOn(asked(freely, hint, 'to the click', { free: false }).desk).hints.firstBeatStrike).toBe(2);
  });

  it('a correction keeps it, its opposite gives the page back, and without a click nothing is told', () => {
    const desk = caught();
    const moved = asked(desk, move, [1], 1).desk;
    expect(page(moved)).toContain('Upbeat: G4 crotchet');
    expect(page(moved)).not.toBe(WITH_UPBEAT);
    const back = asked(moved, move, [1], -1).desk;
    expect(page(back)).toBe(WITH_UPBEAT);
    // Another way to count, with a note pinned: its barline stays where the pins were counted from.
    const free = asked(moved, hint, 'freely', { free: true }).desk;
    expect(pieceOn(free).hints.firstBeatStrike).toBe(1);
    const { click: _, ...heard } = UPBEAT;
    expect(pieceOn(caught(heard)).hints).toEqual({});
    expect(corrected(pieceOn(caught(heard))).notes).toHaveLength(12);
  });

  it('whichever of two bars struck on the barline is pressed, its barline is the one that was told', () => {
    for (const late of [0.02, -0.02]) {
      const chord = takeOf('chord', [3, 4, 4 + late, 5, 6, 7, 8], [67, 72, 76, 79, 76, 72, 72], 4);
      const strikes = [...chord.strikes].sort((a, b) => a.at - b.at);
      const desk = caught({ ...chord, strikes });
      expect(page(desk)).toContain('Upbeat: G4 crotchet / Bar 1: C5 and E5 crotchet;');
      for (const pressed of [[1, 2], [1], [2]]) {
        const back = asked(desk, firstBeat, pressed).desk;
        expect(page(back)).toContain('Bar 1: minim rest; crotchet rest; G4 crotchet / Bar 2: C5 and E5');
        expect(page(asked(back, firstBeat, pressed).desk)).toBe(page(desk));
      }
    }
  });

  it.each([
    ['a grace note on the barline, its note after it', [3, 4, 4.1, 5, 6, 7, 8], 2],
    ['a grace note before it', [3, 3.9, 4, 5, 6, 7, 8], 2],
    ['a bar that bounces on it', [3, 3.98, 4, 5, 6, 7, 8], 1],
  ])('leads to %s', (_, at, main) => {
    const plain = takeOf('flam', at, [67, 72, 72, 79, 76, 72, 72], 4);
    const soft = plain.strikes.map((one, i) => (i === 3 - main ? { ...one, velocity: 40 } : one));
    const desk = caught({ ...plain, strikes: soft });
    expect(page(desk)).toMatch(/^Upbeat: G4 crotchet \/ Bar 1: (grace note C5 to |)C5 crotchet/);
    expect(page(asked(desk, firstBeat, [main]).desk)).toMatch(/^Bar 1: minim rest; crotchet rest; G4/);
  });

  it('of a quaver in 6/8', () => {
    const jig = takeOf('jig', [5 / 3, 2, 8 / 3, 3, 11 / 3, 4], [67, 72, 76, 79, 76, 72], 3, metre(6, 8));
    expect(page(caught(jig))).toBe(
      'Upbeat: G4 quaver / Bar 1: C5 crotchet; E5 quaver; G5 crotchet; E5 quaver / Bar 2: C5 dotted crotchet; dotted crotchet rest',
    );
  });

  it('a motif in use keeps its notes when the first barline goes elsewhere, and undo gives it back', () => {
    /** G | C D E G E | C D E, its first note on the first beat of the click, or on the fourth. */
    const from = (beat: number) =>
      takeOf(
        'used',
        [0, 1, 2, 2.5, 3, 4, 5, 6, 7].map(at => at + beat),
        [67, 72, 74, 76, 79, 76, 72, 74, 76],
        4,
      );
    const motif = (desk: DeskState): string =>
      textScore(pieceScore(pieceOn(desk)), 'british')
        .slice(2)
        .join(' / ');
    const used = (desk: DeskState): DeskState => after(desk, goOnWithMotif);
    const later = asked(used(caught(from(0))), firstBeat, [1]).desk;
    expect(motif(later)).toBe(
      'Upbeat: G4 crotchet / Bar 1: C5 crotchet; D5 quaver; E5 quaver; G5 crotchet; E5 crotchet / ' +
        'Bar 2: C5 crotchet; D5 crotchet; E5 crotchet',
    );
    const begun = used(caught(from(3)));
    expect(motif(begun)).toBe(motif(later));
    const rests = asked(begun, firstBeat, [1]).desk;
    expect(motifOf(pieceOn(rests)).notes).toHaveLength(9);
    expect(motif(rests)).toContain('Bar 1: minim rest; crotchet rest; G4 crotchet / Bar 2: C5 crotchet;');
    expect(motif(asked(rests, firstBeat, [1]).desk)).toBe(motif(begun));
    // The first five notes alone.
    const cut = cutOfNotes(corrected(pieceOn(begun)), [0, 1, 2, 3, 4]);
    if (cut === undefined) throw new Error('five notes');
    const five = asked(after(begun, setMotif, cut), firstBeat, [1]).desk;
    expect(motifOf(pieceOn(five)).notes).toHaveLength(5);
  });

  it('a correction of one note leaves the bars of the motif as they are', () => {
    const begun = after(caught(), goOnWithMotif);
    const { motifBars } = pieceOn(begun);
    expect(pieceOn(asked(begun, move, [4], 1).desk).motifBars).toEqual(motifBars);
  });
});
