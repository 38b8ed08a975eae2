import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { add, fraction, ZERO } from '../../core/foundation/fraction.ts';
import { key, type Key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { pitchName, type Spelled } from '../../core/foundation/pitch.ts';
import type { PlacedNote } from '../../core/plan/placed.ts';
import { engravePart } from '../../core/score/engrave.ts';
import type { ScoreBar } from '../../core/score/score.ts';
import { after, four, IDEA, scoreOf } from '../growing/keyed.ts';

/** Crotchets C D E, then a note held over the barline into another key, and crotchets to fill the bar. */
const heldInto = (
  first: Key,
  then: Key,
  held: Spelled,
  rest: readonly Spelled[] = [],
  long = fraction(1, 2),
): readonly ScoreBar[] => {
  const crotchet = fraction(1, 4);
  const plain = ['C', 'D', 'E'].map((letter): Spelled => ({ letter: letter as 'C', alter: 0, octave: 5 }));
  let at = ZERO;
  const notes = [...plain, held, ...rest].map((pitch, i): PlacedNote => {
    const duration = i === 3 ? long : crotchet;
    const note = { onset: at, duration, pitch, ref: String(i) };
    at = add(at, duration);
    return note;
  });
  return engravePart(
    { metre: metre(4, 4), key: first, keys: [{ bar: 1, key: then }], upbeat: ZERO, bars: 2 },
    notes,
  );
};
const told = (bars: readonly ScoreBar[], bar: number): string[] =>
  (bars[bar]?.symbols ?? []).flatMap(s =>
    s.pitches.map(
      p =>
        `${pitchName(p.spelled)}${p.accidental === undefined ? '' : p.cautionary === true ? ' (sign)' : ' sign'}`,
    ),
  );

// Common practice, no source: a tie is one note with one name; where the new signature has its letter otherwise it is said.
describe('a note tied over a barline into another key', () => {
  const F: Spelled = { letter: 'F', alter: 0, octave: 5 };
  const F_SHARP: Spelled = { ...F, alter: 1 };

  it('keeps its name, and says it once more where the new signature says otherwise', () => {
    expect(told(heldInto(key('C'), key('G'), F, [F, F_SHARP]), 1)).toEqual([
      'F5 (sign)',
      'F5 sign',
      'F♯5 sign',
    ]);
    expect(told(heldInto(key('G'), key('C'), F_SHARP, [F]), 1)).toEqual(['F♯5 (sign)', 'F5']);
  });

  it('says it once, on however many symbols the bar writes it', () => {
    const bars = heldInto(key('C'), key('G'), F, [], fraction(7, 8));
    expect(told(bars, 1)).toEqual(['F5 (sign)', 'F5']);
  });

  it('says nothing where the signatures agree about it, or none is new', () => {
    expect(told(heldInto(key('C'), key('F'), F), 1)).toEqual(['F5']);
    expect(told(heldInto(key('C'), key('C'), F_SHARP), 1)).toEqual(['F♯5']);
  });

  it('has one pitch in the file, too', () => {
    const plan = after(IDEA, four(), {
      kind: 'change',
      statement: 's1',
      treatments: [{ kind: 'augment', factor: fraction(3, 2) }],
    });
    const moved = after(IDEA, plan, { kind: 'key', statement: 's1', bar: 2, to: { moved: 6 } });
    const xml = musicXml(scoreOf(IDEA, moved));
    const ties = [...xml.matchAll(/<note>[^]*?<\/note>/g)]
      .map(([note]) => note)
      .filter(n => n.includes('<tie '));
    const pitches = ties.map(note => /<pitch>[^]*?<\/pitch>/.exec(note)?.[0].replace(/\s/g, ''));
    expect(pitches.length).toBeGreaterThan(1);
    for (const [i, note] of ties.entries())
      if (note.includes('<tie type="stop"')) expect(pitches[i]).toBe(pitches[i - 1]);
  });
});
