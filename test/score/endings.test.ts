import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { partScores } from '../../core/exchange/partScores.ts';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import { perform } from '../../core/playback/perform.ts';
import { endingsIn, endingText } from '../../core/score/endings.ts';
import { withLongRests } from '../../core/score/longRests.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import type { Score } from '../../core/score/score.ts';
import { strokesOfMidi } from '../exchange/byVerovio.ts';
import { scoreOf, type Situation } from '../gallery/situation.ts';
import { ENDINGS } from '../gallery/situations/endings.ts';
import { row } from '../gallery/situations/row.ts';
import { written } from './written.ts';

const situation = (id: string): Situation => {
  const found = ENDINGS.find(s => s.id === id);
  if (found === undefined) throw new Error(`no situation: ${id}`);
  return found;
};
const writtenOut = (id: string): Score => scoreOf({ ...situation(id), repeats: false });
const strokes = (score: Score): string[] => strokesOfMidi(Buffer.from(standardMidi(score)), 4);
const heard = (score: Score): string[] =>
  perform(score).events.map(e => `${e.seconds.toFixed(6)} ${e.duration.toFixed(6)} ${String(e.pitch)}`);
/** The barlines of a part's bars as MusicXML, by the number of the measure: endings and repeats. */
const barlines = (score: Score): string[] =>
  (musicXml(score).split('<part id="P1">')[1] ?? '')
    .split('<measure ')
    .slice(1)
    .map(
      (measure, i) =>
        `${String(i)}: ${[...measure.matchAll(/<(?:ending|repeat) [^>]*>/g)].map(m => m[0].replace(/[<>/"]/g, '').trim()).join(', ')}`,
    );

describe('first- and second-time bars', () => {
  it.each(ENDINGS.map(s => s.id))('%s sounds as when it is written out, and in a MIDI file', id => {
    const folded = scoreOf(situation(id));
    expect(folded.barCount).toBeLessThan(writtenOut(id).barCount);
    expect(endingsIn(folded)).toHaveLength(2);
    expect(heard(folded)).toEqual(heard(writtenOut(id)));
    expect(strokes(folded)).toEqual(strokes(writtenOut(id)));
  });

  it('are endings of MusicXML 4.0: the first stops at the repeat, the last stays open', () => {
    expect(barlines(scoreOf(situation('endings')))).toEqual([
      '0: repeat direction=forward',
      '1: ending number=1 type=start, ending number=1 type=stop, repeat direction=backward times=2',
      '2: ending number=2 type=start, ending number=2 type=discontinue',
      '3: ',
    ]);
    expect(barlines(scoreOf(situation('endings-three'))).slice(1)).toEqual([
      '1: ending number=1, 2 type=start, ending number=1, 2 type=stop, repeat direction=backward times=3',
      '2: ending number=3 type=start, ending number=3 type=discontinue',
    ]);
    // Words would say again what the endings say.
    expect(musicXml(scoreOf(situation('endings-three')))).not.toContain('×3');
  });

  it('are said in words, in every part', () => {
    const lines = textScore(scoreOf(situation('endings-lettered')));
    expect(lines.filter(line => line.includes('time only'))).toHaveLength(4);
    expect(lines[3]).toMatch(/^Letter A, bars 2 to 3 are played twice, the last time with another ending\. /);
    expect(lines[4]).toMatch(/^first time only\. Bar 3: /);
    expect(lines[5]).toMatch(/^second time only\. Bar 4: /);
    expect(textScore(scoreOf(situation('endings-three')))[3]).toMatch(/^first to second time only\. Bar 2/);
  });

  it('say at which times they are played', () => {
    const said = (times: number): string[] =>
      endingsIn({
        ...scoreOf(situation('endings')),
        repeats: [{ bar: 0, bars: 2, times, endings: { first: 1, last: 1 } }],
      }).map(endingText);
    expect(said(2)).toEqual(['1.', '2.']);
    expect(said(3)).toEqual(['1., 2.', '3.']);
    expect(said(5)).toEqual(['1.–4.', '5.']);
  });

  it('name the statement that ends otherwise over the bars in which it does', () => {
    const { brackets } = scoreOf(situation('endings-lettered'));
    expect(brackets.map(b => [b.from, b.to])).toEqual([
      [fraction(1), fraction(3)],
      [fraction(3), fraction(4)],
    ]);
  });

  const repeatsOf = (score: Score): Score['repeats'] => withRepeatBars(score).repeats;

  it('are not made where something else begins within, or is held over', () => {
    const out = writtenOut('endings');
    const named = (from: number, to: number): Score => ({
      ...out,
      brackets: [{ id: 's', part: 'p1', from: fraction(from), to: fraction(to), text: 'the motif' }],
    });
    expect(repeatsOf(out)?.[0]?.endings).toEqual({ first: 1, last: 1 });
    expect(repeatsOf(named(2, 4))).toHaveLength(1);
    expect(repeatsOf(named(3, 4))).toHaveLength(1);
    expect(repeatsOf(named(0, 3))).toHaveLength(1);
    expect(repeatsOf(named(2, 3))).toBeUndefined();
    expect(repeatsOf({ ...out, letters: [{ bar: 3, letter: 'A' }] })).toBeUndefined();
    expect(repeatsOf({ ...out, tempi: [{ at: fraction(3), tempo: 60 }] })).toBeUndefined();
    expect(repeatsOf({ ...out, slowings: [{ from: fraction(3), to: fraction(4) }] })).toHaveLength(1);
    expect(repeatsOf({ ...out, slowings: [{ from: fraction(2), to: fraction(4) }] })).toBeUndefined();
  });

  const plain = (notes: string): Score => scoreOf(row('x', '', notes, '', ''));

  it('are not made from a slur, a hairpin or a tie that goes over into them, nor after silence alone', () => {
    expect(repeatsOf(plain('C5:4 D5:4 C5:4 E5:4'))?.[0]?.endings).toBeDefined();
    expect(repeatsOf(plain('C5:4~( D5:4~) C5:4~( E5:4~)'))).toBeUndefined();
    expect(repeatsOf(plain('C5:4~< D5:4~. C5:4~< E5:4~.'))).toBeUndefined();
    expect(repeatsOf(plain('C5:6 D5:2 C5:6 E5:2'))).toBeUndefined();
    expect(repeatsOf(plain('r4 D5:4 r4 E5:4'))).toBeUndefined();
  });

  it('keep their bars in a part with long rests: as many in each ending as are written there', () => {
    const two = 'C5:4 D5:4 E5:4 F5:4';
    const score = scoreOf({
      ...row(
        'x',
        '',
        `${two} ${two.replace('E5:4 F5:4', 'G5:4 A5:4')} / E4:4 E4:4 r8 E4:4 E4:4 D4:4 D4:4`,
        '',
        '',
      ),
      instruments: ['xylophone', 'marimba'],
      repeats: true,
    });
    expect(score.repeats).toEqual([{ bar: 0, bars: 4, times: 2, endings: { first: 2, last: 2 } }]);
    const own = partScores(score)[1];
    const short = own === undefined ? score : withLongRests(own);
    expect(short.repeats).toEqual([{ bar: 0, bars: 3, times: 2, endings: { first: 1, last: 2 } }]);
    expect(written(short.parts[0]?.bars ?? [])).toBe('w | w |  | w | w');
  });

  it('a rest of several bars ends where an ending does', () => {
    const score = scoreOf({
      ...row('x', '', `C5:4 D5:4 C5:4 E5:4 F5:4 / E4:4 D4:4 E4:4 r8`, '', ''),
      instruments: ['xylophone', 'marimba'],
      repeats: true,
    });
    const own = partScores(score)[1] ?? score;
    expect(score.repeats?.[0]?.endings).toEqual({ first: 1, last: 1 });
    expect(withLongRests(own).barCount).toBe(own.barCount);
  });
});
