import { describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { line, written } from './written.ts';

// Rules as published in Berklee's notation guides: in 4/4 only semibreves
// and unsyncopated dotted minims cross mid-bar, else tie; beams never cross it; with semiquavers
// every beat shows; quaver-crotchet-quaver inside a half bar is fine; compound by dotted crotchet.
const CASES: readonly (readonly [string, string, string, string])[] = [
  ['semibreve', '4/4', '4', 'w'],
  ['dotted minim on beat 1', '4/4', '3 1', 'h. q'],
  ['dotted minim on beat 2 is tied', '4/4', '1 3', 'q q~ h'],
  ['quaver-crotchet-quaver in each half', '4/4', '1/2 1 1/2 1/2 1 1/2', 'e q e e q e'],
  ['crotchet across mid-bar is tied', '4/4', '3/2 1 3/2', 'q. e~ [e e~] q'],
  ['quavers beamed by half bar', '4/4', '1/2 1/2 1/2 1/2 1/2 1/2 1/2 1/2', '[e e e e] [e e e e]'],
  ['semiquavers make beats show', '4/4', '1/4 1/4 1/2 1/2 1/2 2', '[s s e] [e e] h'],
  ['semiquaver-quaver-semiquaver in a beat', '4/4', '1/4 1/2 1/4 3', '[s e s] q~ h'],
  ['off-beat semiquaver over a beat is tied', '4/4', '3/4 1/2 3/4 2', '[e. s~] [s e.] h'],
  ['charleston', '4/4', '3/2 5/2', 'q. e~ h'],
  ['anticipation tied over the bar', '4/4', '7/2 1/2 4', 'h~ q. e | w'],
  ['anticipation, note held over', '4/4', '2 3/2 5/2 2', 'h q. e~ | h h'],
  ['dotted quaver and semiquaver', '4/4', '3/4 1/4 3/4 1/4 2', '[e. s] [e. s] h'],
  ['scotch snap', '4/4', '1/4 3/4 1 2', '[s e.] q h'],
  ['rest on beat 1', '4/4', 'r1 1 1 1', 'rq q q q'],
  ['half-bar rests', '4/4', '2 r2', 'h rh'],
  ['rests do not cross mid-bar', '4/4', '1 r2 1', 'q rq rq q'],
  ['off-beat rests show the beat', '4/4', '1/2 r1 1/2 2', 'e re re e h'],
  ['whole-bar rest', '4/4', 'r4', 'R'],
  ['quaver triplet', '4/4', '1/3 1/3 1/3 1 2', '(3:[e e e]) q h'],
  ['triplet with crotchet', '4/4', '2/3 1/3 1 2', '(3:q e) q h'],
  ['crotchet triplet over two beats', '4/4', '2/3 2/3 2/3 2', '(3:q q q) h'],
  ['semiquaver triplet in half a beat', '4/4', '1/6 1/6 1/6 1/2 1 2', '(3:[s s s) e] q h'],
  ['triplet with rest', '4/4', '1/3 r1/3 1/3 3', '(3:[e re e]) q~ h'],
  ['3/4 quavers by the bar', '3/4', '1/2 1/2 1/2 1/2 1/2 1/2', '[e e e e e e]'],
  ['3/4 never 3+3', '3/4', '3/2 1/2 1/2 1/2', 'q. e [e e]'],
  ['3/4 minim on beat 2', '3/4', '1 2', 'q h'],
  ['3/4 two beats of rest', '3/4', '1 r2', 'q rq rq'],
  ['2/4 quavers', '2/4', '1/2 1/2 1/2 1/2', '[e e e e]'],
  ['6/8 by dotted crotchet', '6/8', '1/2 1/2 1/2 1/2 1/2 1/2', '[e e e] [e e e]'],
  ['6/8 hemiola is tied', '6/8', '1 1 1', 'q e~ e q'],
  ['6/8 dotted minim', '6/8', '3', 'h.'],
  ['6/8 crotchet-quaver', '6/8', '1 1/2 1/2 1', 'q e e q'],
  ['6/8 rest of a beat', '6/8', 'r3/2 3/2', 'rq. q.'],
  ['6/8 siciliano', '6/8', '3/4 1/4 1/2 3/2', '[e. s e] q.'],
  ['9/8', '9/8', '3/2 1 1/2 1/2 1/2 1/2', 'q. q e [e e e]'],
  ['6/4 in two halves', '6/4', '3 1 2', 'h. q h'],
  ['6/4 across the middle is tied', '6/4', '2 2 2', 'h q~ q h'],
  ['6/4 rests', '6/4', '1 r4 1', 'q rq rq rh q'],
  ['6/8 rest from within a beat', '6/8', '1/2 r2 1/2', 'e re re rq e'],
  ['6/8 rest of a beat and a half', '6/8', 'r2 1', 'rq. re q'],
  ['9/8 rest of two beats', '9/8', '3/2 r3', 'q. rq. rq.'],
  ['9/8 note of two beats', '9/8', '3/2 3', 'q. h.'],
  ['6/8 two equal notes in a dotted beat', '6/8', '3/4 3/4 3/2', '[e. e.] q.'],
  ['6/8 quaver and crotchet', '6/8', '1/2 1 1/2 1', 'e q e q'],
  ['semiquaver, dotted quaver after a quaver', '2/4', '1/2 1/4 3/4 1/2', '[e s s~] [e e]'],
  ['7/8 note over its first two groups', '7/8', '2 3/2', 'h q.'],
  ['2/4 syncopation', '2/4', '1/2 1 1/2', 'e q e'],
  ['3/4 syncopation', '3/4', '1/2 1 1 1/2', 'e q q e'],
  ['3/4 dotted minim and rests', '3/4', '3 r3 r1/2 1/2 2', 'h. | R | re e h'],
  ['12/8 a note of eight quavers', '12/8', '4 2', 'h.~ q e~ q.'],
  ['12/8 eight quavers of rest', '12/8', 'r4 2', 'rh. rq e~ q.'],
  ['12/8 half-bars', '12/8', '3 3', 'h. h.'],
  ['12/8 across the middle is tied', '12/8', '3/2 3 3/2', 'q. q.~ q. q.'],
  ['5/4 as 3+2', '5/4', '3 2', 'h. h'],
  ['7/8 as 2+2+3', '7/8', '1/2 1/2 1/2 1/2 1/2 1/2 1/2', '[e e] [e e] [e e e]'],
  ['2/2 crotchets', '2/2', '1 1 2', 'q q h'],
  ['tresillo', '4/4', '3/2 3/2 1', 'q. e~ q q'],
  ['demisemiquavers', '4/4', '1/8 1/8 1/4 1/2 3', '[t t s e] q~ h'],
];

describe('rhythm is spelled by the metre', () => {
  it.each(CASES)('%s (%s: %s)', (_name, m, rhythm, expected) => {
    expect(written(line(m, rhythm))).toBe(expected);
  });

  it('writes an upbeat as a bar of its own', () => {
    const bars = line('4/4', '1/2 1/2 4', fraction(1, 4));
    expect(written(bars)).toBe('[e e] | w');
    expect(bars.map(bar => bar.number)).toEqual([0, 1]);
  });
});
