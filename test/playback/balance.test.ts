import { describe, expect, it } from 'vitest';
import { INSTRUMENT_IDS, INSTRUMENTS, type InstrumentId } from '../../core/instruments/instruments.ts';
import { VELOCITY_OF } from '../../core/plan/dynamics.ts';
import { frequencyOf } from '../../core/playback/barModes.ts';
import { MALLETS_FOR, type MalletId } from '../../core/instruments/mallets.ts';
import { renderStroke } from '../../core/playback/renderStroke.ts';
import { integratedLoudness } from '../tools/loudnessMeter.ts';
import { soundOfLine } from './line.ts';
import { centroid } from './tones.ts';

const RATE = 48000;

const lineOf = (
  instrument: InstrumentId,
  pitch: number,
  velocity: number,
  mallet?: MalletId,
  gap?: number,
): number =>
  integratedLoudness(
    [soundOfLine({ instrument, pitch, velocity, mallet, ...(gap === undefined ? {} : { gap }) }, RATE)],
    RATE,
  );

const bars = (id: InstrumentId): readonly number[] => {
  const { low, high, soundsAbove } = INSTRUMENTS[id];
  return [0.05, 0.3, 0.5, 0.7, 0.95].map(share => Math.round(low + share * (high - low)) + soundsAbove);
};
const spread = (list: readonly number[]): number => Math.max(...list) - Math.min(...list);

// Loudness after ITU-R BS.1770-4.
describe('balance', () => {
  it('between instruments is within 1 LU, at every dynamic', () => {
    for (const velocity of [VELOCITY_OF.pp, VELOCITY_OF.mf, VELOCITY_OF.ff]) {
      const lines = INSTRUMENT_IDS.map(id => lineOf(id, bars(id)[2] ?? 0, velocity));
      expect(spread(lines), String(lines)).toBeLessThan(1);
    }
  });

  it.each(INSTRUMENT_IDS)('of a %s is within 2 LU over its range', id => {
    const lines = bars(id).map(pitch => lineOf(id, pitch, 80));
    expect(spread(lines), String(lines)).toBeLessThan(2);
  });

  it.each(INSTRUMENT_IDS)('of a %s is the same whatever the mallet, within 1 LU', id => {
    const lines = MALLETS_FOR[id].map(mallet => lineOf(id, bars(id)[1] ?? 0, 80, mallet));
    expect(spread(lines), String(lines)).toBeLessThan(1);
  });

  it('holds at other paces too, within 2.5 LU: a damped bar adds less to quick notes, more to slow ones', () => {
    for (const gap of [0.25, 0.5]) {
      const lines = INSTRUMENT_IDS.map(id => lineOf(id, bars(id)[2] ?? 0, 80, undefined, gap));
      expect(spread(lines), String(lines)).toBeLessThan(2.5);
    }
  });
});

describe('dynamics', () => {
  it.each(INSTRUMENT_IDS)('of a %s span at least 24 LU from pp to ff, in even steps', id => {
    const pitch = bars(id)[1] ?? 0;
    const lines = Object.values(VELOCITY_OF).map(velocity => lineOf(id, pitch, velocity));
    expect((lines.at(-1) ?? 0) - (lines[0] ?? 0)).toBeGreaterThan(24);
    lines.slice(1).forEach((line, i) => {
      expect(line - (lines[i] ?? 0)).toBeGreaterThan(3);
    });
  });

  it.each(INSTRUMENT_IDS)('change the timbre of a %s: ff is brighter than pp over the first 50 ms', id => {
    const pitch = bars(id)[1] ?? 0;
    const at = (velocity: number): number =>
      centroid(renderStroke({ instrument: id, pitch, velocity }, RATE), RATE, 0.05) / frequencyOf(pitch);
    expect(at(VELOCITY_OF.ff)).toBeGreaterThan(1.05 * at(VELOCITY_OF.pp));
  });
});
