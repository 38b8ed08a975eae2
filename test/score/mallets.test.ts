import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { INSTRUMENT_IDS, type InstrumentId } from '../../core/instruments/instruments.ts';
import { MALLET_IDS, type MalletId, MALLETS_FOR } from '../../core/instruments/mallets.ts';
import { pieceScore, readingScore } from '../../core/piece/piece.ts';
import { giveInstrument, giveMallet } from '../../core/plan/partList.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { perform } from '../../core/playback/perform.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import type { Score } from '../../core/score/score.ts';
import { pieceOf } from '../desk/pieces.ts';

const scoreWith = (
  instrument: InstrumentId,
  mallet: MalletId | undefined,
  times = 1,
  words?: string,
): Score => {
  const plan = firstPlan(instrument, 90, mallet);
  const [statement] = plan.statements;
  if (statement === undefined) throw new Error('no statement');
  return pieceScore(pieceOf(), {
    ...plan,
    statements: [{ ...statement, times, ...(words === undefined ? {} : { words }) }],
  });
};
const wordsOn = (score: Score): readonly string[] =>
  score.parts.flatMap(part => part.bars.flatMap(bar => bar.symbols.flatMap(s => s.words ?? [])));

/** A statement of them stands over the part's first note, once (common practice, no source). */
describe('mallets that are not the usual ones', () => {
  it('are said over the first note of their part, once, before what is said there anyway', () => {
    expect(wordsOn(scoreWith('glockenspiel', 'brass', 2))).toEqual(['brass mallets']);
    expect(wordsOn(scoreWith('vibraphone', 'soft-yarn', 2, 'dreamily'))).toEqual([
      'soft yarn mallets, dreamily',
    ]);
    const score = scoreWith('marimba', 'rubber');
    expect(score.parts[0]?.bars[0]?.symbols[0]?.words).toBe('rubber mallets');
    expect(musicXml(score)).toContain('<words>rubber mallets</words>');
    expect(textScore(score).join('\n')).toContain('“rubber mallets”');
  });

  it.each(INSTRUMENT_IDS)('on a %s: only what its bars bear is written, and heard', instrument => {
    for (const mallet of MALLET_IDS) {
      const score = scoreWith(instrument, mallet);
      const isBorne = MALLETS_FOR[instrument].includes(mallet);
      const isUsual = MALLETS_FOR[instrument][0] === mallet;
      expect(wordsOn(score)).toHaveLength(isBorne && !isUsual ? 1 : 0);
      for (const { mallet: heard } of perform(score).events)
        expect(heard).toBe(isBorne && !isUsual ? mallet : undefined);
    }
  });

  it('are said on the page of Write, too, and in nothing that sounds at another time or pitch', () => {
    const piece = pieceOf();
    const plain = readingScore(piece);
    const rubber = readingScore({ ...piece, mallet: 'rubber' });
    expect(wordsOn(rubber)).toEqual(['rubber mallets']);
    expect(wordsOn(plain)).toEqual([]);
    expect(perform(rubber).events.map(({ mallet: _, ...event }) => event)).toEqual(perform(plain).events);
    expect(parseMidi(standardMidi(rubber))).toEqual(parseMidi(standardMidi(plain)));
  });

  it('keep nothing from being written with repeat bars', () => {
    const folded = withRepeatBars(scoreWith('glockenspiel', 'brass', 3));
    expect(folded.repeats).toHaveLength(1);
    expect(folded.repeats).toEqual(withRepeatBars(scoreWith('glockenspiel', undefined, 3)).repeats);
    expect(wordsOn(folded)).toEqual(['brass mallets']);
    // What a pupil says there is not said again, so it is no repeat.
    expect(withRepeatBars(scoreWith('glockenspiel', 'brass', 3, 'dreamily')).repeats?.[0]?.bar).not.toBe(0);
  });

  it('are given up for the usual ones on an instrument that does not bear them', () => {
    const brass = giveMallet(firstPlan('glockenspiel', 90), 'p1', 'brass');
    const mallets = (plan: Plan) => plan.parts.map(part => [part.instrument, part.mallet]);
    expect(mallets(brass)).toEqual([['glockenspiel', 'brass']]);
    expect(mallets(giveInstrument(brass, 'p1', 'marimba'))).toEqual([['marimba', undefined]]);
    const rubber = giveMallet(firstPlan('xylophone', 90), 'p1', 'rubber');
    expect(mallets(giveInstrument(rubber, 'p1', 'vibraphone'))).toEqual([['vibraphone', 'rubber']]);
    // Hard plastic is usual there: nothing is kept of it, nor written.
    const hard = giveMallet(firstPlan('vibraphone', 90), 'p1', 'hard-plastic');
    expect(giveInstrument(hard, 'p1', 'glockenspiel').parts[0]).toEqual({
      id: 'p1',
      instrument: 'glockenspiel',
    });
  });
});
