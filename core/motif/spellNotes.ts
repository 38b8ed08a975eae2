import { compare, equal, type Fraction } from '../foundation/fraction.ts';
import { named, type NoteName } from '../foundation/enharmonic.ts';
import type { Key } from '../foundation/key.ts';
import type { Spelled } from '../foundation/pitch.ts';
import { spellLine } from '../foundation/spellLine.ts';
import type { MidiPitch } from '../foundation/units.ts';

interface Sounding {
  readonly onset: Fraction;
  readonly pitch: MidiPitch;
  /** Given by hand. */
  readonly name?: NoteName;
}

/**
 * The spelling of each note, in the order given, by what the notes struck next make of it (`spellLine`);
 * a name given by hand goes before, and changes no other note's.
 * @example
 * const line = [64, 63, 64].map((pitch, i) => ({ onset: fraction(i, 4), pitch }));
 * spellingOf(line, key('C')).map(pitchName) // => ['E4', 'D♯4', 'E4']
 */
export const spellingOf = (notes: readonly Sounding[], k: Key): readonly Spelled[] => {
  const order = notes
    .map((note, index) => ({ note, index }))
    .sort((a, b) => compare(a.note.onset, b.note.onset));
  const moments: (typeof order)[] = [];
  for (const one of order) {
    const last = moments.at(-1);
    const [before] = last ?? [];
    if (last !== undefined && before !== undefined && equal(before.note.onset, one.note.onset))
      last.push(one);
    else moments.push([one]);
  }
  const spelled = spellLine(
    k,
    moments.map(moment => moment.map(({ note }) => note.pitch)),
  );
  const byIndex = moments
    .flatMap((moment, m) => moment.map(({ index }, i) => ({ index, pitch: spelled[m]?.[i] })))
    .sort((a, b) => a.index - b.index);
  return byIndex.flatMap(({ index, pitch }) => {
    const note = notes[index];
    return (note === undefined ? undefined : named(note.pitch, note.name)) ?? pitch ?? [];
  });
};
