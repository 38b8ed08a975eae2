import { type Key, signature } from '../../foundation/key.ts';
import { type Metre, tactus } from '../../foundation/metre.ts';
import { INSTRUMENTS } from '../../instruments/instruments.ts';
import { isDoubleAfter } from '../../score/barline.ts';
import { signatureChange } from '../../score/keyAt.ts';
import { metreChange, metricRelation } from '../../score/metreAt.ts';
import { type Ending, endingsIn, endingText } from '../../score/endings.ts';
import type { RepeatedBars, Score, ScoreBar, ScorePart, WrittenPitch } from '../../score/score.ts';
import { type Xml, xml } from '../xml.ts';
import { directionsAfter, directionsAt, relationDirection, tempoDirection, words } from './directions.ts';
import type { LineNumbers } from './lineNumbers.ts';
import { noteElements } from './notes.ts';

const attributes = (score: Score, part: ScorePart, divisions: number): Xml => {
  const { soundsAbove } = INSTRUMENTS[part.instrument];
  return xml(
    'attributes',
    {},
    xml('divisions', {}, divisions),
    keyElement(score.key),
    timeElement(score.metre),
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

/** A key by its signature and mode; `cancelled` is the signature whose signs are shown as naturals before it. */
const keyElement = (k: Key, cancelled = 0): Xml =>
  xml(
    'key',
    {},
    cancelled !== 0 && xml('cancel', {}, cancelled),
    xml('fifths', {}, signature(k)),
    xml('mode', {}, xmlMode(k.mode)),
  );

const timeElement = ({ upper, lower }: Metre): Xml =>
  xml('time', {}, xml('beats', {}, upper), xml('beat-type', {}, lower));

/** Another key or metre from this bar on. Naturals are shown where there are no new signs, as on the page. */
const changed = (score: Score, bar: ScoreBar): Xml | undefined => {
  const key = score.keys?.find(k => k.bar === bar.index)?.key;
  const metre = metreChange(score, bar.index);
  if (key === undefined && metre === undefined) return undefined;
  const signs = signatureChange(score, bar.index);
  return xml(
    'attributes',
    {},
    key !== undefined && keyElement(key, signs?.to === 0 ? signs.from : 0),
    metre !== undefined && timeElement(metre),
  );
};

const xmlMode = (mode: Score['key']['mode']): string =>
  mode.includes('minor') ? 'minor' : mode.includes('pentatonic') ? 'major' : mode;

/** First- and second-time bars: the last ending stays open, as on the page. */
const ending = (of: Ending, type: 'start' | 'stop' | 'discontinue'): Xml => {
  const number = Array.from({ length: of.to - of.from + 1 }, (_, i) => String(of.from + i)).join(', ');
  return xml('ending', { number, type }, type === 'start' ? endingText(of) : undefined);
};

const rightBarline = (
  score: Score,
  bar: ScoreBar,
  closes: RepeatedBars | undefined,
  ends: Ending | undefined,
): Xml | undefined => {
  const last = bar.index === score.barCount - 1;
  const style =
    closes !== undefined || last
      ? 'light-heavy'
      : isDoubleAfter(score, bar.index)
        ? 'light-light'
        : undefined;
  if (style === undefined && ends === undefined) return undefined;
  return xml(
    'barline',
    { location: 'right' },
    style !== undefined && xml('bar-style', {}, style),
    ends !== undefined && ending(ends, closes === undefined ? 'discontinue' : 'stop'),
    closes !== undefined && xml('repeat', { direction: 'backward', times: closes.times }),
  );
};

/**
 * One bar of one part.
 * @param lines of the whole part, from `lineNumbers`
 */
export const measure = (
  score: Score,
  part: ScorePart,
  bar: ScoreBar,
  divisions: number,
  lines: ReadonlyMap<WrittenPitch, LineNumbers>,
): Xml => {
  const first = bar.index === 0;
  // Over the system, so in its first part alone.
  const letter = part === score.parts[0] ? score.letters.find(l => l.bar === bar.index) : undefined;
  const relation = part === score.parts[0] ? metricRelation(score, bar.index) : undefined;
  const opens = score.repeats?.find(r => r.bar === bar.index);
  const closes = score.repeats?.find(r => r.bar + r.bars - 1 === bar.index);
  const begins = endingsIn(score).find(e => e.first === bar.index);
  const ends = endingsIn(score).find(e => e.last === bar.index);
  return xml(
    'measure',
    { number: bar.number, ...(bar.number === 0 ? { implicit: 'yes' } : {}) },
    (opens !== undefined || begins !== undefined) &&
      xml(
        'barline',
        { location: 'left' },
        opens !== undefined && xml('bar-style', {}, 'heavy-light'),
        begins !== undefined && ending(begins, 'start'),
        opens !== undefined && xml('repeat', { direction: 'forward' }),
      ),
    first ? attributes(score, part, divisions) : changed(score, bar),
    first && part === score.parts[0] && tempoDirection(tactus(score.metre), score.tempo, 0, score.swing),
    relation !== undefined && relationDirection(relation),
    letter !== undefined &&
      xml(
        'direction',
        { placement: 'above' },
        xml('direction-type', {}, xml('rehearsal', {}, letter.letter)),
      ),
    bar.symbols.map((symbol, i) => [
      directionsAt(score, part, symbol, divisions),
      noteElements(bar, i, divisions, lines),
      directionsAfter(symbol),
    ]),
    closes !== undefined &&
      part === score.parts[0] &&
      closes.times > 2 &&
      closes.endings === undefined &&
      words(timesText(closes.times)),
    rightBarline(score, bar, closes, ends),
  );
};

/**
 * How a repeat played more than twice is marked.
 * @example
 * timesText(4) // => '×4'
 */
export const timesText = (times: number): string => `×${String(times)}`;
