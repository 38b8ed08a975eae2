import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import type { Score } from '../../core/score/score.ts';
import { line, metreOf } from '../score/written.ts';
import { scoreOfBars } from './scoreOfBars.ts';

describe('what stands over and between bars', () => {
  const four = line('4/4', '4 4 4 4');
  const flat = (score: Score): string => musicXml(score).replace(/>\s+</g, '><');
  const measures = (score: Score): string[] =>
    [...flat(score).matchAll(/<measure .*?<\/measure>/g)].map(m => m[0]);

  it('repeat barlines where a repeat begins and ends; how often, when more than twice', () => {
    const bars = measures(
      scoreOfBars(four, {
        repeats: [
          { bar: 0, bars: 1, times: 2 },
          { bar: 1, bars: 2, times: 3 },
        ],
      }),
    );
    expect(bars.map(b => b.includes('direction="forward"'))).toEqual([true, true, false, false]);
    expect(bars.map(b => b.includes('<bar-style>heavy-light</bar-style>'))).toEqual([
      true,
      true,
      false,
      false,
    ]);
    expect(bars.map(b => /direction="backward" times="(\d)"/.exec(b)?.[1])).toEqual([
      '2',
      undefined,
      '3',
      undefined,
    ]);
    expect(bars.map(b => b.includes('<words>×3</words>'))).toEqual([false, false, true, false]);
    expect(bars[2]).toContain('<direction placement="above"><direction-type><words>×3</words>');
    expect(bars[0]).not.toContain('<words>');
    expect(bars.map(b => b.includes('light-heavy'))).toEqual([true, false, true, true]);
  });

  it('letters, attributes once, and the last barline', () => {
    const bars = measures(scoreOfBars(four, { letters: [{ bar: 2, letter: 'A' }] }));
    expect(bars.map(b => b.includes('<rehearsal>A</rehearsal>'))).toEqual([false, false, true, false]);
    expect(bars.map(b => b.includes('<attributes>'))).toEqual([true, false, false, false]);
    expect(bars.map(b => b.includes('light-heavy'))).toEqual([false, false, false, true]);
    expect(bars.map(b => /^<measure number="(\d)">/.exec(b)?.[1])).toEqual(['1', '2', '3', '4']);
  });

  it('the metronome has a dot only where its beat has one; nobody is named where nobody is', () => {
    expect(flat(scoreOfBars(four))).toContain('<beat-unit>quarter</beat-unit><per-minute>');
    const compound = flat(scoreOfBars(line('6/8', '3 3'), { metre: metreOf('6/8') }));
    expect(compound).toContain('<beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>');
    expect(flat(scoreOfBars(four))).not.toContain('<creator');
    expect(flat(scoreOfBars(four, { codeName: 'Heron' }))).toContain(
      '<creator type="composer">Heron</creator>',
    );
  });

  it('an upbeat bar is number 0 and implicit', () => {
    const bars = measures(scoreOfBars(line('4/4', '1 4', fraction(1, 4)), { upbeat: fraction(1, 4) }));
    expect(bars[0]).toMatch(/^<measure number="0" implicit="yes">/);
    expect(bars[1]).toMatch(/^<measure number="1">/);
  });

  it('a new tempo and words stand at their own place, within a long note too', () => {
    const score = scoreOfBars(four, {
      tempi: [{ at: fraction(3, 2), tempo: 120 }],
      brackets: [
        { id: 's1', part: 'p1', from: fraction(2), to: fraction(3), text: 'canon' },
        { id: 's2', part: 'p1', from: fraction(11, 4), to: fraction(3), text: 'retrograde' },
        { id: 's3', part: 'p9', from: fraction(2), to: fraction(3), text: 'elsewhere' },
      ],
    });
    const divisions = Number(/<divisions>(\d+)/.exec(flat(score))?.[1]);
    const bars = measures(score);
    expect(bars[1]).toContain(`<offset sound="yes">${String(2 * divisions)}</offset><sound tempo="120"/>`);
    expect(bars[2]).toMatch(/<words>canon<\/words><\/direction-type><\/direction>/);
    expect(bars[2]).toContain(
      `<words>retrograde</words></direction-type><offset>${String(3 * divisions)}</offset>`,
    );
    expect(flat(score)).not.toContain('elsewhere');
  });

  it('key, clef, transposition and mode', () => {
    const minor = flat({ ...scoreOfBars(four), key: key('G', 'minor') });
    expect(minor).toContain('<fifths>-2</fifths><mode>minor</mode>');
    expect(flat({ ...scoreOfBars(four), key: key('A', 'minor pentatonic') })).toContain(
      '<fifths>0</fifths><mode>minor</mode>',
    );
    expect(flat({ ...scoreOfBars(four), key: key('D', 'major pentatonic') })).toContain('<mode>major</mode>');
    expect(flat({ ...scoreOfBars(four), key: key('D', 'dorian') })).toContain('<mode>dorian</mode>');
    expect(minor).toContain('<sign>G</sign><line>2</line>');
    const [part] = scoreOfBars(four).parts;
    const low = flat(scoreOfBars(four, { parts: part === undefined ? [] : [{ ...part, clef: 'bass' }] }));
    expect(low).toContain('<sign>F</sign><line>4</line>');
    expect(minor).not.toContain('<transpose>');
    expect(flat(scoreOfBars(four, {}, 'xylophone'))).toContain('<octave-change>1</octave-change>');
  });
});
