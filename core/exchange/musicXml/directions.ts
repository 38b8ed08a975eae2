import { add, type Fraction, fraction, less, subtract } from '../../foundation/fraction.ts';
import { tactus } from '../../foundation/metre.ts';
import { type NoteValue, valueOf } from '../../foundation/noteValue.ts';
import type { Bpm } from '../../foundation/units.ts';
import { type Dynamic, type Hairpin, VELOCITY_OF } from '../../plan/dynamics.ts';
import type { Swing } from '../../reading/model/reading.ts';
import type { Score, ScorePart, ScoreSymbol } from '../../score/score.ts';
import { isTempoAgain } from '../../score/slowing.ts';
import { swingName } from '../textScore.ts';
import { type Xml, xml } from '../xml.ts';
import { ticks } from './divisions.ts';
import { TYPE } from './names.ts';

/** Metronome mark and tempo, and swing where the piece begins, before a note of the first part. */
export const tempoDirection = (beat: Fraction, tempo: Bpm, offset = 0, swing?: Swing): Xml => {
  const value = valueOf(beat) ?? { base: 4 as const, dots: 0 as const };
  const crotchets = (tempo * beat.n * 4) / beat.d;
  const [first, second] = swing === undefined ? [1, 1] : swingRatio(swing.ratio);
  return xml(
    'direction',
    { placement: 'above' },
    xml(
      'direction-type',
      {},
      xml(
        'metronome',
        {},
        xml('beat-unit', {}, TYPE[value.base]),
        value.dots > 0 && xml('beat-unit-dot'),
        // As the page writes it; the sound below is exact.
        xml('per-minute', {}, String(Math.round(tempo))),
      ),
    ),
    swing !== undefined &&
      xml('direction-type', {}, xml('words', { 'font-style': 'italic' }, swingText(swing))),
    offset !== 0 && xml('offset', { sound: 'yes' }, offset),
    xml(
      'sound',
      { tempo: Number(crotchets.toFixed(4)) },
      swing !== undefined &&
        xml(
          'swing',
          {},
          xml('first', {}, first),
          xml('second', {}, second),
          xml('swing-type', {}, swing.unit.d === 16 ? '16th' : 'eighth'),
        ),
    ),
  );
};

/** That a note value stays as long as it was, where another metre begins. */
export const relationDirection = ({ base, dots }: NoteValue): Xml => {
  const unit = [xml('beat-unit', {}, TYPE[base]), dots > 0 && xml('beat-unit-dot')];
  return xml(
    'direction',
    { placement: 'above' },
    xml('direction-type', {}, xml('metronome', {}, unit, unit)),
  );
};

/**
 * How swung a piece is, in words, for readers that do not show what only sounds.
 * @example
 * swingText({ ratio: 2, unit: fraction(1, 8) }) // => 'swung quavers, 2 : 1'
 */
export const swingText = (swing: Swing): string => {
  const ratio = swing.ratio.toFixed(2).replace(/\.?0+$/, '');
  return `${swingName(swing)}, ${ratio} : 1`;
};

/** Long to short as small whole numbers in lowest terms (MusicXML wants positive integers). */
export const swingRatio = (ratio: number): [number, number] => {
  const f = fraction(Math.round(ratio * 20), 20);
  return [f.n, f.d];
};

/** Words over the stave. */
export const words = (text: string): Xml =>
  xml('direction', { placement: 'above' }, xml('direction-type', {}, xml('words', {}, text)));

const startsIn = (stretch: { onset: Fraction; duration: Fraction }, at: Fraction): boolean =>
  !less(at, stretch.onset) && less(at, add(stretch.onset, stretch.duration));

const dynamicDirection = (dynamic: Dynamic): Xml =>
  xml(
    'direction',
    { placement: 'below' },
    xml('direction-type', {}, xml('dynamics', {}, xml(dynamic))),
    xml('sound', { dynamics: Number(((VELOCITY_OF[dynamic] / 90) * 100).toFixed(2)) }),
  );

/** Everything over and under the stave that begins within a symbol. */
export const directionsAt = (
  score: Score,
  part: ScorePart,
  symbol: ScoreSymbol,
  divisions: number,
): Xml[] => {
  const offset = (at: Fraction): number => ticks(subtract(at, symbol.onset), divisions);
  const tempi = part === score.parts[0] ? (score.tempi ?? []) : [];
  const slowings = part === score.parts[0] ? (score.slowings ?? []) : [];
  return [
    ...tempi
      .filter(t => startsIn(symbol, t.at))
      .map(t => tempoDirection(t.beat ?? tactus(score.metre), t.tempo, offset(t.at))),
    ...score.brackets
      .filter(b => b.part === part.id && startsIn(symbol, b.from))
      .map(b => withOffset(words(b.text), offset(b.from))),
    ...slowings.flatMap(s => [
      ...(startsIn(symbol, s.from) ? [withOffset(slowerWords('rit.'), offset(s.from))] : []),
      ...(startsIn(symbol, s.to) && isTempoAgain(score, s)
        ? [withOffset(slowerWords('a tempo'), offset(s.to))]
        : []),
    ]),
    ...(symbol.words === undefined ? [] : [words(symbol.words)]),
    ...(symbol.dynamic === undefined ? [] : [dynamicDirection(symbol.dynamic)]),
    ...(symbol.hairpin === undefined ? [] : [wedge(symbol.hairpin)]),
    ...(symbol.pedal === true ? [pedal('start')] : []),
  ];
};

/** What ends with a symbol. */
export const directionsAfter = (symbol: ScoreSymbol): Xml[] => [
  ...(symbol.hairpinEnds === true ? [wedge('stop')] : []),
  ...(symbol.pedalEnds === true ? [pedal('stop')] : []),
];

/** The signs Ped. and the star, without a line, and what a sustain pedal does. */
const pedal = (type: 'start' | 'stop'): Xml =>
  xml(
    'direction',
    { placement: 'below' },
    xml('direction-type', {}, xml('pedal', { type, line: 'no', sign: 'yes' })),
    xml('sound', { 'damper-pedal': type === 'start' ? 'yes' : 'no' }),
  );

const wedge = (type: Hairpin | 'stop'): Xml =>
  xml('direction', { placement: 'below' }, xml('direction-type', {}, xml('wedge', { type })));

const slowerWords = (text: string): Xml =>
  xml(
    'direction',
    { placement: 'above' },
    xml('direction-type', {}, xml('words', { 'font-style': 'italic' }, text)),
  );

const withOffset = (direction: Xml, offset: number): Xml =>
  offset === 0 ? direction : { ...direction, children: [...direction.children, xml('offset', {}, offset)] };
