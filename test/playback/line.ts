import type { InstrumentId } from '../../core/instruments/instruments.ts';
import { DAMPED_T60 } from '../../core/playback/barModes.ts';
import type { MalletId } from '../../core/instruments/mallets.ts';
import { renderStroke } from '../../core/playback/renderStroke.ts';

export interface TestLine {
  readonly instrument: InstrumentId;
  /** In the middle of it, as it sounds. */
  readonly pitch: number;
  readonly velocity: number;
  readonly mallet?: MalletId | undefined;
  /** Seconds from note to note; 0.4 (crotchets at 150) is about the pace at which the instruments are levelled. */
  readonly gap?: number;
}

/** A line of 15 notes, each of its own bar until the fifth; a vibraphone is damped at the end of each note. */
export const soundOfLine = (
  { instrument, pitch, velocity, mallet, gap = 0.4 }: TestLine,
  rate: number,
): Float32Array => {
  const bars = [-2, 0, 1, -1, 2].map(step =>
    renderStroke({ instrument, pitch: pitch + step, velocity, mallet }, rate),
  );
  const notes = 15;
  const out = new Float32Array(Math.round(notes * gap * rate));
  for (let note = 0; note < notes; note += 1) {
    const stroke = bars[note % bars.length] ?? new Float32Array();
    const at = Math.round(note * gap * rate);
    for (let i = 0; i < stroke.length && at + i < out.length; i += 1) {
      const over = i / rate - gap;
      const damped = instrument === 'vibraphone' && over > 0 ? 10 ** ((-3 * over) / DAMPED_T60) : 1;
      out[at + i] = (out[at + i] ?? 0) + (stroke[i] ?? 0) * damped;
    }
  }
  return out;
};
