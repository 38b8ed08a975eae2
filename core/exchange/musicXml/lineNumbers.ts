import { midiOf } from '../../foundation/pitch.ts';
import type { ScorePart, WrittenPitch } from '../../score/score.ts';

/** Numbers of the lines at a note: that which begins, that which leads to it, that which ends with a small head after it. */
export interface LineNumbers {
  readonly begins?: number;
  readonly ends?: number;
  readonly small?: number;
}

interface OpenLine {
  readonly from: number;
  readonly to: number;
  readonly number: number;
}

/** A number that no open line has: readers pair what begins with what ends by it. */
const free = (open: readonly OpenLine[]): number => {
  let number = 1;
  while (open.some(line => line.number === number)) number++;
  return number;
};

/** The numbers of the glissandi of a part, so that lines from notes struck together, and one line after the other, are told apart. */
export const lineNumbers = (part: ScorePart): ReadonlyMap<WrittenPitch, LineNumbers> => {
  const numbers = new Map<WrittenPitch, LineNumbers>();
  let open: readonly OpenLine[] = [];
  for (const symbol of part.bars.flatMap(bar => bar.symbols)) {
    const before = open;
    // Small heads come after the whole chord.
    const closed: OpenLine[] = [];
    for (const pitch of symbol.pitches) {
      const midi = midiOf(pitch.spelled);
      const led = pitch.endsGliss === true ? before.find(line => line.to === midi) : undefined;
      open = open.filter(line => line !== led);
      // Not that of a line which ends here, for which note of a chord is read first is left open.
      const number = pitch.gliss === undefined ? undefined : free([...before, ...open]);
      if (pitch.gliss !== undefined && number !== undefined)
        open = [...open, { from: midi, to: midiOf(pitch.gliss.to), number }];
      const small = pitch.smallEnd === undefined ? undefined : open.filter(line => line.from === midi).at(-1);
      if (small !== undefined) closed.push(small);
      numbers.set(pitch, {
        ...(number === undefined ? {} : { begins: number }),
        ...(led === undefined ? {} : { ends: led.number }),
        ...(small === undefined ? {} : { small: small.number }),
      });
    }
    open = open.filter(line => !closed.includes(line));
  }
  return numbers;
};
