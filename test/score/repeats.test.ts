import { describe, expect, it } from 'vitest';
import { parseMidi } from 'midi-file';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { perform } from '../../core/playback/perform.ts';
import { secondsAtOnset } from '../../core/playback/seconds.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import { playedOut, playingOrder } from '../../core/score/repeats.ts';
import type { Score } from '../../core/score/score.ts';
import { pieceOfFour } from '../exchange/pieces.ts';
import { scoreOf, type Situation } from '../gallery/situation.ts';
import { SITUATIONS } from '../gallery/situations/index.ts';

const situation = (id: string): Situation => {
  const found = SITUATIONS.find(s => s.id === id);
  if (found === undefined) throw new Error(`no situation: ${id}`);
  return found;
};
/** What is heard, without what it belongs to on the page. */
const heard = (score: Score): string[] =>
  perform(score).events.map(
    e => `${e.seconds.toFixed(6)} ${e.duration.toFixed(6)} ${String(e.pitch)} ${String(e.velocity)}`,
  );

describe('repeats as repeat bars', () => {
  it('are played in order: each stretch as often as it says', () => {
    expect(playingOrder(4, [{ bar: 1, bars: 2, times: 3 }])).toEqual([0, 1, 2, 1, 2, 1, 2, 3]);
  });

  it.each(['repeat-twice', 'repeat-four', 'repeat-inside'])('%s sounds as when it is written out', id => {
    const { repeats: _, ...plain } = situation(id);
    const out = scoreOf(plain);
    const folded = scoreOf(situation(id));
    expect(folded.barCount).toBeLessThan(out.barCount);
    expect(heard(folded)).toEqual(heard(out));
    expect(playedOut(folded).barCount).toBe(out.barCount);
  });

  it('a whole piece sounds the same, written out or with repeat bars', () => {
    const piece = pieceOfFour();
    expect(heard(withRepeatBars(piece))).toEqual(heard(piece));
  });

  it('are never made over a tie, a letter or a new tempo inside', () => {
    const { repeats: _, ...plain } = situation('repeat-four');
    const out = scoreOf(plain);
    expect(withRepeatBars({ ...out, letters: [{ bar: 4, letter: 'A' }] }).repeats).toEqual([
      { bar: 0, bars: 2, times: 2 },
      { bar: 2, bars: 2, times: 2 },
    ]);
    expect(withRepeatBars({ ...out, tempi: [{ at: fraction(1), tempo: 60 }] }).repeats?.[0]?.bar).not.toBe(0);
  });

  it('are said in words and in bars', () => {
    const lines = textScore(scoreOf(situation('repeat-four')));
    expect(lines[2]).toMatch(/^bars 1 to 2 are played four times\. Bar 1: C5 quaver;/);
  });
});

describe('tempo changes, dynamics, articulation and grace notes are heard', () => {
  it('each stretch at its own tempo: four beats at 96, then four at 120', () => {
    const score = scoreOf(situation('tempo'));
    expect(secondsAtOnset(score, fraction(1))).toBeCloseTo((4 * 60) / 96, 9);
    expect(secondsAtOnset(score, fraction(2))).toBeCloseTo((4 * 60) / 96 + (4 * 60) / 120, 9);
  });

  it('MIDI says both tempi, read by midi-file (an independent parser)', () => {
    const tempi: string[] = [];
    for (const track of parseMidi(standardMidi(scoreOf(situation('tempo')))).tracks) {
      let at = 0;
      for (const event of track) {
        at += event.deltaTime;
        if (event.type === 'setTempo') tempi.push(`${String(at)} ${String(event.microsecondsPerBeat)}`);
      }
    }
    expect(tempi).toEqual(['0 625000', '3840 500000']);
  });

  it('louder marks are louder, an accent louder than its neighbours, staccato shorter', () => {
    const velocities = perform(scoreOf(situation('dynamics'))).events.map(e => e.velocity);
    expect(velocities).toEqual([49, 49, 80, 112, 33, 64, 96]);
    const accents = perform(scoreOf(situation('accents'))).events.map(e => e.velocity);
    expect(accents).toEqual([100, 84, 84, 100, 100, 100]);
    const lengths = perform(scoreOf(situation('staccato'))).events.map(e => e.duration);
    expect(lengths[0]).toBeCloseTo(60 / 96 / 4, 9);
    expect(lengths[4]).toBeCloseTo(60 / 96, 9);
  });

  it('a grace note comes 45 ms before its note, which keeps its place; at the very start the note gives way', () => {
    const { events } = perform(scoreOf(situation('grace')));
    // The xylophone sounds an octave above what is written: D5 before C5, F sharp 5 before E5.
    expect(events.slice(0, 4).map(e => [Math.round(e.seconds * 1000), e.pitch])).toEqual([
      [0, 86],
      [45, 84],
      [580, 90],
      [625, 88],
    ]);
    expect(events.every(e => e.duration > 0)).toBe(true);
  });

  it('the text score says them', () => {
    expect(textScore(scoreOf(situation('grace')))[2]).toMatch(
      /^Bar 1: grace note D5 to C5 crotchet; grace note F♯5 to E5/,
    );
    expect(textScore(scoreOf(situation('accents')))[2]).toMatch(/^Bar 1: C5 quaver, accent; D5 quaver;/);
    expect(textScore(scoreOf(situation('dynamics')))[2]).toMatch(
      /^Bar 1: piano, C5 crotchet; D5 crotchet; mezzo-forte, E5/,
    );
    const letters = textScore(scoreOf(situation('letters')));
    expect(letters[0]).toBe('C major, 4/4, crotchet = 96');
    expect(letters[4]).toMatch(/^Letter B, crotchet = 120 from beat 1\. Bar 3: /);
  });
});

describe('repeat bars stand where a musician would put them', () => {
  const { repeats: _, ...plain } = situation('repeat-four');
  const out = scoreOf(plain);
  type Marks = Partial<Score['parts'][number]['bars'][number]['symbols'][number]>;
  /** The score with marks on the first or last symbol of a bar. */
  const marked = (bar: number, where: 'first' | 'last', marks: Marks, score = out): Score => ({
    ...score,
    parts: score.parts.map(part => ({
      ...part,
      bars: part.bars.map((one, i) => ({
        ...one,
        symbols: one.symbols.map((symbol, j) =>
          i === bar && j === (where === 'first' ? 0 : one.symbols.length - 1)
            ? { ...symbol, ...marks }
            : symbol,
        ),
      })),
    })),
  });

  it('beginning with the idea, not in the middle of it, where its first time alone is marked', () => {
    expect(withRepeatBars(out).repeats).toEqual([{ bar: 0, bars: 2, times: 4 }]);
    const whole = { id: 's1', part: out.parts[0]?.id ?? '', from: fraction(0), to: fraction(8), text: 'it' };
    const soft = marked(0, 'first', { dynamic: 'p' }, { ...out, brackets: [whole] });
    expect(withRepeatBars(soft).repeats).toEqual([{ bar: 2, bars: 2, times: 3 }]);
    // Its first bar after an upbeat is the one the upbeat leads to.
    const before = { ...whole, id: 's0', to: fraction(7, 4) };
    const later = { ...whole, from: fraction(7, 4) };
    expect(withRepeatBars({ ...soft, brackets: [before, later] }).repeats).toEqual([
      { bar: 2, bars: 2, times: 3 },
    ]);
  });

  it.each<[string, Marks, Marks]>([
    ['slur', { slur: 'start' }, { slur: 'stop' }],
    ['hairpin', { hairpin: 'crescendo' }, { hairpinEnds: true }],
    ['pedal', { pedal: true }, { pedalEnds: true }],
  ])('never inside a %s', (_name, begin, end) => {
    const over = marked(7, 'last', end, marked(0, 'first', begin));
    expect(withRepeatBars(over).repeats ?? []).toEqual([]);
  });
});
