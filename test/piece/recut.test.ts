import { describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import type { BarRange } from '../../core/piece/motifOfReading.ts';
import { withReading } from '../../core/piece/rereading.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import { pieceOf, takeOf } from '../desk/pieces.ts';

/** Eight crotchets to a click at 120, two bars of 4/4. */
const PIECE = pieceOf(takeOf('eight', [0, 1, 2, 3, 4, 5, 6, 7], [60, 62, 64, 65, 67, 69, 71, 72]));
const { reading } = PIECE;
/** The same strikes from so many crotchets before the barline on, each so many crotchets long. */
const counted = (upbeat: number, crotchets = 1): Reading => ({
  ...reading,
  upbeat: fraction(upbeat, 4),
  tempo: reading.tempo * crotchets,
  notes: reading.notes.map((note, i) => ({
    ...note,
    onset: fraction(i * crotchets * 4 - upbeat * 4, 16),
    duration: fraction(crotchets * 4, 16),
  })),
  beats: Array.from({ length: 8 * crotchets + 2 }, (_, i) => (i * 0.5) / crotchets),
  firstBeat: upbeat,
});
const barsAfter = (motifBars: BarRange, next: Reading): BarRange | undefined =>
  withReading({ ...PIECE, motifBars }, next, []).motifBars;

describe('the motif of a page whose bars begin elsewhere', () => {
  it('is the bars that hold its notes, and leaves out what is not its own there', () => {
    const chosen = { from: 1, to: 1, without: [3], closed: true } as const;
    // Three crotchets of upbeat are the three chosen notes, and nothing else.
    expect(barsAfter(chosen, counted(3))).toEqual({ from: 0, to: 0, closed: true });
    // After one crotchet of upbeat the other two stand in bar 1 with two that are not chosen.
    expect(barsAfter(chosen, counted(1))).toEqual({ from: 0, to: 1, without: [3, 4], closed: true });
  });

  it('keeps its notes at half the tempo too, where the first barline is the same', () => {
    expect(barsAfter({ from: 1, to: 1 }, counted(0, 2))).toEqual({ from: 1, to: 2 });
  });

  it('keeps how it joins, and stays as it is where bars begin as they did', () => {
    const joined = { from: 1, to: 2, joined: true, closed: true } as const;
    expect(barsAfter(joined, counted(1))).toEqual({ ...joined, from: 0 });
    expect(barsAfter({ from: 2, to: 2 }, counted(0))).toEqual({ from: 2, to: 2 });
    expect(withReading(PIECE, counted(1), [])).not.toHaveProperty('motifBars');
  });
});
