import { fraction } from '../../core/foundation/fraction.ts';
import { pitchName } from '../../core/foundation/pitch.ts';
import type { Motif } from '../../core/motif/motif.ts';
import type { Score } from '../../core/score/score.ts';
import { IDEA } from './keyed.ts';

/** A one-bar idea in 4/4 of these notes, one after the other: thirds above C5, crotchets. */
export const ideaOf = (notes: readonly (readonly [third: number, crotchets: number])[]): Motif => ({
  ...IDEA,
  notes: notes.map(([third, crotchets], i) => ({
    onset: fraction(
      notes.slice(0, i).reduce((so, n) => so + n[1], 0),
      4,
    ),
    duration: fraction(crotchets, 4),
    degree: 35 + 2 * third,
    alter: 0,
  })),
});

/** Every bar of a part: names, `~` for ties, rests by the value they are written in; "R" for a whole bar. */
export const barsInShort = (score: Score, part = 0): string[] =>
  (score.parts[part]?.bars ?? []).map(bar =>
    bar.symbols
      .map(s => {
        if (s.wholeBar === true) return 'R';
        const names = s.pitches.map(p => pitchName(p.spelled)).join('+');
        return s.pitches.length === 0
          ? `r${String(s.value.base)}`
          : `${s.tiedFrom ? '~' : ''}${names}${s.tiedTo ? '~' : ''}`;
      })
      .join(' '),
  );
