import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toNumber } from '../../../core/foundation/fraction.ts';
import { midiOf } from '../../../core/foundation/pitch.ts';
import { motifOf, planOf } from '../../../core/piece/piece.ts';
import { MOST_PARTS, type Plan } from '../../../core/plan/plan.ts';
import { notesOfStatement, statementEnd } from '../../../core/plan/statement.ts';
import { keepTrial, tryStep } from '../../../renderer/desk/commands/trial.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import {
  AT_A_TIME,
  cardsOfTurn,
  isOfPitches,
  PUPIL_CARDS,
} from '../../../renderer/views/pupil/pupilCards.ts';
import { anyTake } from '../../laws/anyTake.ts';
import { after, pieceOf, withPiece } from '../pieces.ts';

const pieceIn = (desk: DeskState) => {
  const piece = desk.document.history?.present.piece;
  if (piece === undefined) throw new Error('no piece');
  return piece;
};
const pressed = (desk: DeskState, id: string): DeskState | undefined => {
  const piece = pieceIn(desk);
  const made = PUPIL_CARDS.find(card => card.id === id)?.growth(motifOf(piece), planOf(piece));
  return made === undefined ? undefined : after(after(desk, tryStep, id, made), keepTrial);
};
const grownBy = (...ids: readonly string[]): DeskState =>
  ids.reduce((desk, id) => {
    const next = pressed(desk, id);
    if (next === undefined) throw new Error(`no room for ${id}`);
    return next;
  }, withPiece());

/** Every statement as [part, bar it begins at from 0, times, MIDI pitches of its first time]. */
const told = (desk: DeskState) => {
  const piece = pieceIn(desk);
  const motif = motifOf(piece);
  return planOf(piece).statements.map(s => [
    s.part,
    toNumber(s.onset),
    s.times,
    notesOfStatement(motif, s)
      .slice(0, motif.notes.length)
      .map(n => midiOf(n.pitch)),
  ]);
};

// The idea: C D E F | G C, two bars of 4/4 in C major.
const IDEA = [72, 74, 76, 77, 79, 84];

describe('a card of the pupil view, pressed and written in', () => {
  it('those that only move pitches are told, for a rhythm has none to move', () => {
    expect(PUPIL_CARDS.filter(isOfPitches).map(card => card.id)).toEqual([
      'upside-down',
      'together',
      'climb',
    ]);
    // What changes the rhythm as well does show.
    const up = { kind: 'transpose', by: 'scale', steps: 1 } as const;
    expect(isOfPitches({ treatments: [up, { kind: 'retrograde' }] })).toBe(false);
    expect(isOfPitches({ treatments: [up] })).toBe(true);
  });

  it('again: twice as often, up to sixteen times', () => {
    expect(told(grownBy('again'))).toEqual([['p1', 0, 2, IDEA]]);
    expect(told(grownBy('again', 'again', 'again', 'again'))).toEqual([['p1', 0, 16, IDEA]]);
    expect(pressed(grownBy('again', 'again', 'again', 'again'), 'again')).toBeUndefined();
  });

  it('upside down: each interval turned over, straight after the tune (common practice, no source)', () => {
    // From C: up a second, third, fourth, fifth, octave becomes down as many steps of C major.
    expect(told(grownBy('upside-down'))[1]).toEqual(['p1', 2, 1, [72, 71, 69, 67, 65, 60]]);
  });

  it('back to front, slow, fast, one step up', () => {
    expect(told(grownBy('backwards'))[1]).toEqual(['p1', 2, 1, [...IDEA].reverse()]);
    expect(told(grownBy('climb'))[1]).toEqual(['p1', 2, 1, [74, 76, 77, 79, 81, 86]]);
    // Climbing goes on from where the last one stood.
    expect(told(grownBy('climb', 'climb'))[2]).toEqual(['p1', 4, 1, [76, 77, 79, 81, 83, 88]]);
    const slow = grownBy('slow');
    const plan = planOf(pieceIn(slow));
    const end = (p: Plan, i: number): number => {
      const statement = p.statements[i];
      return statement === undefined ? -1 : toNumber(statementEnd(motifOf(pieceIn(slow)), statement));
    };
    // Two bars become four; two quick ones fill two bars again.
    expect(end(plan, 1)).toBe(6);
    expect(told(grownBy('fast'))[1]?.slice(0, 3)).toEqual(['p1', 2, 2]);
  });

  it('canon: another instrument half an idea later; together: a third higher, from the start', () => {
    const canon = grownBy('canon');
    expect(planOf(pieceIn(canon)).parts.map(p => p.instrument)).toEqual(['xylophone', 'glockenspiel']);
    expect(told(canon)[1]?.slice(1, 3)).toEqual([1, 1]);
    const together = told(grownBy('together'))[1];
    expect(together?.[1]).toBe(0);
    const pitches = together?.[3] as readonly number[];
    // C D E F G C a third higher in C major is E F G A B E, in whichever octave.
    expect(pitches.map(p => p % 12)).toEqual([4, 5, 7, 9, 11, 4]);
  });

  it('never makes more parts than there may be', () => {
    const full = grownBy('canon', 'together', 'canon');
    expect(planOf(pieceIn(full)).parts).toHaveLength(MOST_PARTS);
    expect(pressed(full, 'canon')).toBeUndefined();
    expect(pressed(full, 'together')).toBeUndefined();
    expect(pressed(full, 'again')).toBeDefined();
  });
});

describe('the cards', () => {
  it('come four at a time, and come round again', () => {
    expect(cardsOfTurn(0).map(c => c.id)).toEqual(['again', 'canon', 'slow', 'upside-down']);
    expect(cardsOfTurn(1)).toHaveLength(AT_A_TIME);
    expect(cardsOfTurn(2)).toEqual(cardsOfTurn(0));
    expect(new Set(PUPIL_CARDS.map(c => c.id)).size).toBe(PUPIL_CARDS.length);
  });

  it('law: whatever was played, whatever was pressed before, what fits is written in and the tune stays', () => {
    let written = 0;
    fc.assert(
      fc.property(
        anyTake,
        fc.array(fc.constantFrom(...PUPIL_CARDS.map(c => c.id)), { minLength: 1, maxLength: 5 }),
        (take, ids) => {
          const start = withPiece(pieceOf(take));
          const first = JSON.stringify(motifOf(pieceIn(start)));
          const end = ids.reduce((desk, id) => {
            const next = pressed(desk, id);
            const before = planOf(pieceIn(desk));
            if (next === undefined) return desk;
            const now = planOf(pieceIn(next));
            if (JSON.stringify(now) !== JSON.stringify(before)) {
              written += 1;
              // Nothing that stood there is gone or moved; only "again" counts higher.
              for (const s of before.statements)
                expect(now.statements.find(n => n.id === s.id)).toMatchObject({
                  part: s.part,
                  onset: s.onset,
                });
              expect(now.statements.length - before.statements.length).toBe(id === 'again' ? 0 : 1);
            }
            return next;
          }, start);
          expect(JSON.stringify(motifOf(pieceIn(end)))).toBe(first);
        },
      ),
      { numRuns: 60, seed: 13 },
    );
    expect(written).toBeGreaterThan(60);
  });
});
