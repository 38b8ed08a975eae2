import { describe, expect, it } from 'vitest';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { perform } from '../../core/playback/perform.ts';
import { expectedStrokes } from '../../core/rehearse/expected.ts';
import { noticed, type PlayedStroke } from '../../core/rehearse/notice.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import type { Score } from '../../core/score/score.ts';
import { strokesOfMidi } from '../exchange/byVerovio.ts';
import { scoreOf } from '../gallery/situation.ts';
import { row } from '../gallery/situations/row.ts';

const of = (notes: string): Score => ({
  ...scoreOf({ ...row('x', '', notes, '', ''), instruments: ['marimba'] }),
  tempo: 60,
});
const struck = (score: Score): (readonly [number, number])[] =>
  perform(score).events.map(e => [Number(e.seconds.toFixed(3)), e.pitch]);

describe('a glissando', () => {
  it('strikes the bars between evenly, as long as its note lasts, and the note it leads to once', () => {
    expect(struck(of('C5:1=G5 G5:1 r2'))).toEqual([
      [0, 72],
      [0.25, 74],
      [0.5, 76],
      [0.75, 77],
      [1, 79],
    ]);
    // Where it leads to no note its last bar is struck within its time.
    expect(struck(of('C5:1=F5 G5:1 r2')).map(([, pitch]) => pitch)).toEqual([72, 74, 76, 77, 79]);
  });

  it('of a tied note is one, over the barline too', () => {
    const all = struck(of('r3 C5:2=C6 C6:1 r2'));
    expect(all.map(([, pitch]) => pitch)).toEqual([72, 74, 76, 77, 79, 81, 83, 84]);
    expect([all[0]?.[0], all.at(-1)?.[0]]).toEqual([3, 5]);
    const open = struck(of('r3 C5:2=C6 r3'));
    expect(open.map(([, pitch]) => pitch)).toEqual([72, 74, 76, 77, 79, 81, 83, 84]);
    expect(open.at(-1)?.[0]).toBe(4.75);
  });

  it('ends with a small head of its own before a note with a grace note, and strikes its last bar there', () => {
    const score = of('C5:1=G5 (A5)G5:1 r2');
    const [first, second] = score.parts[0]?.bars[0]?.symbols ?? [];
    expect([first?.pitches[0]?.smallEnd?.letter, second?.pitches[0]?.endsGliss]).toEqual(['G', undefined]);
    expect(struck(score).map(([, pitch]) => pitch)).toEqual([72, 74, 76, 77, 79, 81, 79]);
  });

  it('of one note of a chord leaves the other alone, and sounds where its instrument sounds', () => {
    const high = {
      ...scoreOf({ ...row('x', '', 'C5+E5:1=G5 r3', '', ''), instruments: ['xylophone'] }),
      tempo: 60,
    };
    expect(struck(high).map(([, pitch]) => pitch)).toEqual([84, 88, 86, 88, 89, 91]);
  });

  it('is in a MIDI file, stroke for stroke', () => {
    const score = of('C5:1=G5 G5:1 r2');
    expect(strokesOfMidi(Buffer.from(standardMidi(score)), 2).sort()).toEqual(
      ['0.00 72', '0.25 74', '0.50 76', '0.75 77', '1.00 79'].sort(),
    );
  });

  it('bars with another line are not the same bar', () => {
    const repeats = (notes: string): number => withRepeatBars(of(notes)).repeats?.length ?? 0;
    expect(repeats('C5:1=G5 r3 C5:1=G5 r3 C5:1=G5 r3')).toBe(1);
    expect(repeats('C5:1=G5 r3 C5:1=A5 r3 C5:1=F5 r3')).toBe(0);
    expect(repeats('C5:1 r3 C5:1=A5 r3 C5:1 r3')).toBe(0);
  });
});

const played = (at: number, pitch: number): PlayedStroke => ({ at, pitch, velocity: 80 });

describe('a glissando that is rehearsed', () => {
  const wanted = expectedStrokes(of('C5:1=C6 r1 E5:1 r1'), {
    part: 'p1',
    bars: { first: 0, last: 0 },
    speed: 1,
  });
  const kinds = (all: readonly PlayedStroke[]): string[] => noticed(wanted, all).map(n => n.kind);

  it('is expected by its first stroke; what is struck on the way belongs to it, on whatever bars', () => {
    expect(wanted.map(s => [s.seconds, s.pitch])).toEqual([
      [0, 72],
      [2, 76],
    ]);
    const line = [72, 74, 76, 77, 79, 81, 83, 84].map((pitch, i) => played(0.02 + i * 0.04, pitch));
    const chromatic = Array.from({ length: 13 }, (_, i) => played(0.02 + i * 0.03, 72 + i));
    for (const way of [line, chromatic])
      expect(kinds([...way, played(2, 76)])).toEqual(['in place', 'in place']);
  });

  it('a bar beside the way, or long after, is one too many; a line that is not begun is left out', () => {
    expect(kinds([played(0, 72), played(0.1, 74), played(0.2, 86), played(2, 76)])).toContain('added');
    expect(kinds([played(0, 72), played(1.4, 74), played(2, 76)])).toContain('added');
    expect(kinds([played(2, 76)])).toEqual(['left out', 'in place']);
  });
});
