import { add, subtract, times } from '../foundation/fraction.ts';
import type { ScalePitch } from '../foundation/key.ts';
import { inOrder, type MotifNote, type Passage, upbeatOf, waitOf } from './motif.ts';

/**
 * A glissando backwards begins where it ended; its grace notes move with the bar it begins on (a flam is struck on it, a
 * leading note beside it), so that twice backwards is forwards.
 */
const turned = (note: MotifNote): MotifNote => {
  if (note.gliss === undefined) return note;
  const { degree, alter, gliss, grace, ruff } = note;
  const onto = (small: ScalePitch): ScalePitch => ({
    degree: small.degree + gliss.to.degree - degree,
    alter: small.alter + gliss.to.alter - alter,
  });
  return {
    ...note,
    ...gliss.to,
    gliss: { ...gliss, to: { degree, alter } },
    ...(grace === undefined ? {} : { grace: onto(grace) }),
    ...(ruff === undefined ? {} : { ruff: ruff.map(onto) }),
  };
};

/**
 * Retrograde: the order of notes reversed over the passage's whole length, durations travelling with their notes; a
 * glissando is drawn the other way. What only waits at its end waits at the end still.
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * retrograde(idea).notes[0].onset // => fraction(3, 4)
 */
export const retrograde = (passage: Passage): Passage => {
  const end = subtract(subtract(passage.length, waitOf(passage)), times(upbeatOf(passage), 2));
  return {
    ...passage,
    notes: inOrder(
      passage.notes.map(note => ({
        ...turned(note),
        onset: subtract(end, add(note.onset, note.duration)),
      })),
    ),
  };
};
