import { Stave } from 'vexflow/bravura';
import { signature } from '../../core/foundation/key.ts';
import { showMetre } from '../../core/foundation/metre.ts';
import type { BarIndex } from '../../core/foundation/units.ts';
import { INSTRUMENTS, type InstrumentId, transpositionWords } from '../../core/instruments/instruments.ts';
import { keyAt } from '../../core/score/keyAt.ts';
import { metreAt, metreChange } from '../../core/score/metreAt.ts';
import type { Score, ScorePart } from '../../core/score/score.ts';

const KEY_NAMES = ['Cb', 'Gb', 'Db', 'Ab', 'Eb', 'Bb', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'];
/** @throws RangeError when the signature has more than seven signs: scores are never made in such keys. */
const keyText = (score: Score, bar: BarIndex): string => {
  const name = KEY_NAMES[signature(keyAt(score, bar)) + 7];
  if (name === undefined) throw new RangeError('a key signature has at most seven signs');
  return name;
};

/** The time signature in the head of a system: where the music begins, and where another metre does; else none. */
const metreText = (score: Score, bar: BarIndex): string => {
  const metre = bar === 0 ? metreAt(score, 0) : metreChange(score, bar);
  return metre === undefined ? '' : showMetre(metre);
};

/** The stave of a system that begins with a bar, without lines (we draw those), with clef, key signature and, where one begins, the metre. */
export const headedStave = (
  score: Score,
  part: ScorePart,
  x: number,
  top: number,
  width: number,
  bar: BarIndex,
): Stave => {
  const stave = new Stave(x, top, width, {
    spaceAboveStaffLn: 0,
    leftBar: false,
    rightBar: false,
  });
  // As an option the constructor would forget it again.
  stave.setConfigForLines(Array.from({ length: 5 }, () => ({ visible: false })));
  if (part.lines === 1) stave.addClef('percussion');
  else stave.addClef(part.clef).addKeySignature(keyText(score, bar));
  const metre = metreText(score, bar);
  if (metre !== '') stave.addTimeSignature(metre);
  return stave;
};

const widths = new Map<string, number>();

/** Stave units that clef, key signature and metre take in a system that begins with a bar. Measured once by kind. */
export const headWidth = (score: Score, bar: BarIndex): number => {
  const clefs = [...new Set(score.parts.map(part => `${part.clef} ${String(part.lines)}`))].sort().join();
  const kind = `${clefs} ${keyText(score, bar)} ${metreText(score, bar)}`;
  const known = widths.get(kind);
  if (known !== undefined) return known;
  const width = Math.max(
    0,
    ...score.parts.map(part => headedStave(score, part, 0, 0, 500, bar).getNoteStartX()),
  );
  widths.set(kind, width);
  return width;
};

/** About how wide a letter of a name is, in stave units. */
const letterWidth = (letter: string): number =>
  /[MWmw@%&]/.test(letter) ? 15.5 : /[A-Z]/.test(letter) ? 11 : /[fijlrt.,' ]/.test(letter) ? 5.5 : 9;

/** Names of many wide letters ask for more room than usual ones. */
const widthOf = (name: string): number =>
  Math.max(name.length * 8, Array.from(name).reduce((sum, letter) => sum + letterWidth(letter), 0) - 12);

/** Size of the lines that say how a part sounds, in stave units. */
export const SOUNDS_SIZE = 13;

/**
 * How a part sounds where that is not as written, in two short lines under its name on the first system.
 * @example
 * soundsLines('glockenspiel') // => ['sounds two', 'octaves higher']
 */
export const soundsLines = (instrument: InstrumentId): readonly string[] => {
  const words = transpositionWords(INSTRUMENTS[instrument].soundsAbove).split(' ');
  return words.length < 4 ? [] : [words.slice(0, 2).join(' '), words.slice(2).join(' ')];
};
const soundsWidth = (instrument: InstrumentId): number =>
  Math.max(0, ...soundsLines(instrument).map(line => line.length * SOUNDS_SIZE * 0.5));

const nameWidth = (score: Score, first: boolean): number =>
  Math.max(
    ...score.parts.map(p =>
      first ? Math.max(widthOf(p.name), soundsWidth(p.instrument)) : widthOf(p.short),
    ),
  ) + 16;

/** Left margin for part names and the bracket, in stave units. */
export const margin = (score: Score, names: boolean, first: boolean): number =>
  (names ? nameWidth(score, first) : 0) + (score.parts.length > 1 ? 14 : 2);
