import { signature } from '../../foundation/key.ts';
import { INSTRUMENTS } from '../../instruments/instruments.ts';
import { isDoubleAfter } from '../../score/barline.ts';
import type { Score, ScoreBar, ScorePart } from '../../score/score.ts';
import { type Xml, xml } from '../xml.ts';
import { directionsAfter, directionsAt, tempoDirection, words } from './directions.ts';
import { noteElements } from './notes.ts';

const attributes = (score: Score, part: ScorePart, divisions: number): Xml => {
  const { soundsAbove } = INSTRUMENTS[part.instrument];
  return xml(
    'attributes',
    {},
    xml('divisions', {}, divisions),
    xml('key', {}, xml('fifths', {}, signature(score.key)), xml('mode', {}, xmlMode(score.key.mode))),
    xml('time', {}, xml('beats', {}, score.metre.upper), xml('beat-type', {}, score.metre.lower)),
    xml(
      'clef',
      {},
      xml('sign', {}, part.clef === 'bass' ? 'F' : 'G'),
      xml('line', {}, part.clef === 'bass' ? 4 : 2),
    ),
    soundsAbove !== 0 &&
      xml(
        'transpose',
        {},
        xml('diatonic', {}, 0),
        xml('chromatic', {}, 0),
        xml('octave-change', {}, soundsAbove / 12),
      ),
  );
};

const xmlMode = (mode: Score['key']['mode']): string =>
  mode.includes('minor') ? 'minor' : mode.includes('pentatonic') ? 'major' : mode;

/** One bar of one part. */
export const measure = (score: Score, part: ScorePart, bar: ScoreBar, divisions: number): Xml => {
  const first = bar.index === 0;
  // Over the system, so in its first part alone.
  const letter = part === score.parts[0] ? score.letters.find(l => l.bar === bar.index) : undefined;
  const opens = score.repeats?.find(r => r.bar === bar.index);
  const closes = score.repeats?.find(r => r.bar + r.bars - 1 === bar.index);
  const last = bar.index === score.barCount - 1;
  return xml(
    'measure',
    { number: bar.number, ...(bar.number === 0 ? { implicit: 'yes' } : {}) },
    opens !== undefined &&
      xml(
        'barline',
        { location: 'left' },
        xml('bar-style', {}, 'heavy-light'),
        xml('repeat', { direction: 'forward' }),
      ),
    first && attributes(score, part, divisions),
    first && part === score.parts[0] && tempoDirection(score, score.tempo, 0, score.swing),
    letter !== undefined &&
      xml(
        'direction',
        { placement: 'above' },
        xml('direction-type', {}, xml('rehearsal', {}, letter.letter)),
      ),
    bar.symbols.map((symbol, i) => [
      directionsAt(score, part, symbol, divisions),
      noteElements(bar, i, divisions),
      directionsAfter(symbol),
    ]),
    closes !== undefined && part === score.parts[0] && closes.times > 2 && words(timesText(closes.times)),
    (closes !== undefined || last) &&
      xml(
        'barline',
        { location: 'right' },
        xml('bar-style', {}, 'light-heavy'),
        closes !== undefined && xml('repeat', { direction: 'backward', times: closes.times }),
      ),
    closes === undefined &&
      !last &&
      isDoubleAfter(score, bar.index) &&
      xml('barline', { location: 'right' }, xml('bar-style', {}, 'light-light')),
  );
};

/**
 * How a repeat played more than twice is marked.
 * @example
 * timesText(4) // => '×4'
 */
export const timesText = (times: number): string => `×${String(times)}`;
