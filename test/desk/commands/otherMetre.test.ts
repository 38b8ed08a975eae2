import { describe, expect, it } from 'vitest';
import { composingLog } from '../../../core/evidence/composingLog.ts';
import { fraction } from '../../../core/foundation/fraction.ts';
import { keyName } from '../../../core/foundation/key.ts';
import { movedKey } from '../../../core/foundation/movedKey.ts';
import { metre, metreInWords, showMetre } from '../../../core/foundation/metre.ts';
import { motifOf, pieceScore, planOf } from '../../../core/piece/piece.ts';
import { toggleLetter } from '../../../core/growing/letters.ts';
import { stretchOf } from '../../../renderer/desk/acts/heardScore.ts';
import { chooseReading } from '../../../renderer/desk/commands/reading.ts';
import { moveStatement } from '../../../renderer/desk/commands/statements.ts';
import { rehearse } from '../../../renderer/desk/commands/rehearsal.ts';
import { selectStatement } from '../../../renderer/desk/commands/settings.ts';
import { undoStep } from '../../../renderer/desk/commands/step.ts';
import {
  changePlan,
  growNow,
  keepTrial,
  leaveTrial,
  tryStep,
} from '../../../renderer/desk/commands/trial.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import { FIRST_CHOICE } from '../../../renderer/views/grow/cardChoice.ts';
import { CARDS } from '../../../renderer/views/grow/cards.ts';
import {
  metreBefore,
  metreChangeAt,
  metreOptions,
  noMetreBecause,
  otherMetreOf,
} from '../../../renderer/views/grow/otherMetres.ts';
import { asked } from '../asked.ts';
import { after, pieceOf, pieceOn, takeOf, withPiece } from '../pieces.ts';

/** C D E G crotchets, four times. */
const four = (): DeskState =>
  after(withPiece(pieceOf(takeOf('bar', [0, 1, 2, 3], [72, 74, 76, 79], 1))), growNow, 'four', {
    kind: 'repeat',
    statement: 's1',
    times: 4,
  });
const waltz = { kind: 'metre', statement: 's1', bar: 3, to: metre(3, 4) } as const;

describe('another metre, on the desk', () => {
  it('is tried, written in and undone as one step, its letter with it', () => {
    const before = four();
    const tried = after(before, tryStep, 'another metre', waltz);
    expect(tried.live.trial?.plan.metres).toEqual([{ bar: 2, metre: metre(3, 4) }]);
    expect(planOf(pieceOn(tried))).not.toHaveProperty('metres');
    expect(after(tried, leaveTrial).live.trial).toBeUndefined();
    const kept = after(tried, keepTrial);
    expect(planOf(pieceOn(kept)).letters).toEqual([{ bar: 2, letter: 'A' }]);
    expect(planOf(pieceOn(after(kept, undoStep)))).toEqual(planOf(pieceOn(before)));
  });

  it('what cannot wait is said, and no other place is offered for it', () => {
    const lettered = after(four(), changePlan, 'letter', old => toggleLetter(old, 4));
    const tried = after(lettered, tryStep, 'another metre', waltz);
    expect(tried.live.trial).toBeUndefined();
    expect(tried.live.conflict).toBeUndefined();
    expect(tried.live.problem?.what).toContain('In 3/4 letter A would begin in the middle of a bar');
  });

  it('what is refused is remembered until it is left, tried otherwise, undone, or another statement chosen', () => {
    const lettered = after(four(), changePlan, 'letter', old => toggleLetter(old, 4));
    const refused = after(lettered, tryStep, 'another metre', waltz);
    expect(refused.live.refused).toEqual(refused.live.problem);
    expect(after(refused, leaveTrial).live.refused).toBeUndefined();
    expect(after(refused, tryStep, 'another metre', { ...waltz, bar: 4 }).live.refused).toBeUndefined();
    expect(after(refused, undoStep).live.refused).toBeUndefined();
    expect(after(refused, selectStatement, refused.session.selectedStatement).live.refused).toBeDefined();
    expect(after(refused, selectStatement, 's9').live.refused).toBeUndefined();
    expect(after(refused, rehearse, true).live.refused).toBeUndefined();
  });

  it('where nothing fits the card says why; what stands there already is no choice', () => {
    // Two crotchets a bar, and a letter one bar after: nothing else that a bar can be fills it.
    const piece = pieceOn(four());
    const motif = { ...motifOf(piece), metre: metre(2, 4) };
    const plan = toggleLetter(planOf(piece), 3);
    expect(metreOptions(motif, plan, 2).map(metreInWords)).toEqual([]);
    expect(noMetreBecause(motif, plan, 2)?.what).toBe(
      'In 3/4 letter A would begin in the middle of a bar, and the xylophone plays across it, so it cannot wait.',
    );
    expect(noMetreBecause(motif, plan, 3)).toBeUndefined();
    const compound = planOf(pieceOn(after(four(), growNow, 'metre', { ...waltz, to: metre(6, 8) })));
    expect(metreChangeAt(motifOf(piece), compound, 3)?.metre).toEqual(metre(6, 8));
    expect(metreChangeAt(motifOf(piece), compound, 2)).toBeUndefined();
    // Written in again it would be a step that changes nothing.
    expect(metreOptions(motifOf(piece), compound, 3).map(showMetre)).not.toContain('6/8');
    expect(metreOptions(motifOf(piece), planOf(piece), 3).map(showMetre)).toContain('6/8');
    expect(showMetre(otherMetreOf(FIRST_CHOICE, motifOf(piece), compound))).toBe('3/4');
    expect(metreInWords(otherMetreOf({ ...FIRST_CHOICE, otherMetre: '3/4' }, motifOf(piece), compound))).toBe(
      '3/4',
    );
  });

  it('says what was done: the metre, or the key, and from which bar', () => {
    const piece = pieceOn(four());
    const [motif, plan] = [motifOf(piece), planOf(piece)];
    const [statement] = plan.statements;
    if (statement === undefined) throw new Error('no statement');
    const place = { motif, plan, statement, to: 'here' as const, bar: 1, at: statement.onset };
    const done = (id: string): string | undefined =>
      CARDS.find(c => c.id === id)?.done?.({ ...FIRST_CHOICE, metreBar: 3, keyBar: 2 }, place);
    expect(done('metre-change')).toBe('3/4 from bar 3 on');
    expect(done('key-change')).toBe(`${keyName(movedKey(motif.key, 7))} from bar 2 on`);
  });

  it('its card offers every metre but the one before, three beats first after four', () => {
    const piece = pieceOn(four());
    const motif = motifOf(piece);
    const lettered = toggleLetter(planOf(piece), 2);
    const card = CARDS.find(c => c.id === 'metre-change');
    const [statement] = planOf(piece).statements;
    if (card === undefined || statement === undefined) throw new Error('no card');
    const place = { motif, plan: lettered, statement, to: 'here' as const, bar: 1, at: statement.onset };
    expect(card.step(FIRST_CHOICE, place)).toEqual({ ...waltz, bar: 2 });
    expect(card.step({ ...FIRST_CHOICE, metreBar: 4, otherMetre: '6/8' }, place)).toEqual({
      ...waltz,
      bar: 4,
      to: metre(6, 8),
    });
    const options = metreOptions(motif, lettered, 2).map(metreInWords);
    expect(options).not.toContain('4/4');
    expect(new Set(options).size).toBe(options.length);
    for (const to of metreOptions(motif, lettered, 3))
      expect(after(four(), tryStep, 'metre', { ...waltz, to }).live.trial).toBeDefined();
    const inThree = after(four(), growNow, 'metre', { ...waltz, bar: 2 });
    expect(showMetre(metreBefore(motif, planOf(pieceOn(inThree)), 3))).toBe('3/4');
    expect(showMetre(otherMetreOf({ ...FIRST_CHOICE, metreBar: 3 }, motif, planOf(pieceOn(inThree))))).toBe(
      '4/4',
    );
  });

  it('the metre before takes it away', () => {
    const kept = after(four(), growNow, 'another metre', waltz);
    const away = after(kept, growNow, 'no other metre', {
      ...waltz,
      to: metreBefore(motifOf(pieceOn(kept)), planOf(pieceOn(kept)), 3),
    });
    expect(planOf(pieceOn(away))).not.toHaveProperty('metres');
  });

  it('a piece with bars in 6/8 is not read as swung: pairs of quavers would lie across its beats', () => {
    const swung = (desk: DeskState) => {
      const { reading, hints } = pieceOn(desk);
      const wanted = { ...reading, swing: { ratio: 2, unit: fraction(1, 8) } };
      return asked(desk, chooseReading, wanted, hints).desk;
    };
    const compound = after(four(), growNow, 'another metre', { ...waltz, to: metre(6, 8) });
    expect(() => swung(compound)).toThrow('the beats of 6/8 from bar 3 on do not divide');
    // Three crotchets hold three pairs.
    const three = swung(after(four(), growNow, 'another metre', waltz));
    expect(pieceOn(three).reading.swing?.ratio).toBe(2);
    expect(pieceOn(swung(four())).reading.swing?.ratio).toBe(2);
  });

  it('statements move by its beats, a bar is heard where it stands, and the log tells it', () => {
    const one = after(four(), growNow, 'again', {
      kind: 'state',
      statement: 's1',
      treatments: [],
      to: { part: 'p1' },
      onset: fraction(6),
    });
    const compound = after(one, growNow, 'another metre', { ...waltz, to: metre(6, 8) });
    const [, again] = planOf(pieceOn(compound)).statements;
    if (again === undefined) throw new Error('no statement');
    const moved = after(compound, moveStatement, again.id, 1);
    expect(planOf(pieceOn(moved)).statements.find(s => s.id === again.id)?.onset).toEqual(fraction(51, 8));
    const score = pieceScore(pieceOn(compound));
    expect(stretchOf(score, 2)).toEqual({ from: 1, to: 2 });
    expect(stretchOf(score, 4)).toEqual({ from: 2.75, to: 3.5 });
    const log = composingLog(pieceOn(compound), () => 'a day').map(entry => entry.words);
    expect(log).toContain('From bar 3 the metre is 6/8.');
  });
});
