import {
  divide,
  equal,
  fraction,
  type Fraction,
  less,
  multiply,
  subtract,
  add,
} from '../foundation/fraction.ts';
import { signature } from '../foundation/key.ts';
import { type Metre, tactus } from '../foundation/metre.ts';
import { type NoteValue, valueOf } from '../foundation/noteValue.ts';
import type { Spelled } from '../foundation/pitch.ts';
import type { Bpm } from '../foundation/units.ts';
import { type Dynamic, VELOCITY_OF } from '../plan/dynamics.ts';
import { INSTRUMENTS } from '../instruments/instruments.ts';
import { hookSide, secondaryBreaks } from '../score/beams.ts';
import type { Swing } from '../reading/model/reading.ts';
import type { Score, ScoreBar, ScorePart, ScoreSymbol } from '../score/score.ts';
import { type Xml, writeXml, xml, type XmlChild } from './xml.ts';

const TYPE: Readonly<Record<NoteValue['base'], string>> = {
  1: 'whole',
  2: 'half',
  4: 'quarter',
  8: 'eighth',
  16: '16th',
  32: '32nd',
  64: '64th',
};
const ACCIDENTAL: Readonly<Record<string, string>> = {
  '-2': 'flat-flat',
  '-1': 'flat',
  '0': 'natural',
  '1': 'sharp',
  '2': 'double-sharp',
};

/** Divisions of a crotchet that make every length of the score a whole number. */
const divisionsFor = (score: Score): number => {
  let divisions = 1;
  for (const part of score.parts) {
    for (const bar of part.bars) {
      for (const length of [bar.length, ...bar.symbols.map(s => s.duration)]) {
        const d = divide(length, fraction(1, 4)).d;
        divisions = (divisions / gcd(divisions, d)) * d;
      }
    }
  }
  return divisions;
};
const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

const ticks = (length: Fraction, divisions: number): number => {
  const exact = multiply(length, fraction(4 * divisions));
  return exact.n / exact.d;
};

/** Beams of one symbol: level 1 joins the group; deeper levels join equal neighbours or hook. */
const beamElements = (bar: ScoreBar, index: number): Xml[] => {
  const group = bar.beams.find(g => g.includes(index));
  if (group === undefined) return [];
  const levels = (i: number | undefined): number => {
    const symbol = i === undefined ? undefined : bar.symbols[i];
    return symbol === undefined ? 0 : Math.log2(symbol.value.base) - 2;
  };
  const at = group.indexOf(index);
  const breaks = secondaryBreaks(bar, group);
  const previous = group[at - 1];
  const brokenAfter = breaks.includes(index);
  const brokenBefore = previous !== undefined && breaks.includes(previous);
  const own = levels(index);
  const before = levels(group[at - 1]);
  const after = levels(group[at + 1]);
  return Array.from({ length: own }, (_, i) => i + 1).map(level => {
    const left = before >= level && !(brokenBefore && level > 1);
    const right = after >= level && !(brokenAfter && level > 1);
    const text =
      left && right
        ? 'continue'
        : right
          ? 'begin'
          : left
            ? 'end'
            : hookSide(bar, index) === 'left'
              ? 'backward hook'
              : 'forward hook';
    return xml('beam', { number: level }, text);
  });
};

const tupletEdge = (bar: ScoreBar, symbol: ScoreSymbol): 'start' | 'stop' | undefined => {
  const tuplet = symbol.tuplet === undefined ? undefined : bar.tuplets[symbol.tuplet];
  if (tuplet === undefined) return undefined;
  if (equal(symbol.onset, tuplet.onset)) return 'start';
  return equal(add(symbol.onset, symbol.duration), add(tuplet.onset, tuplet.duration)) ? 'stop' : undefined;
};

const noteElements = (bar: ScoreBar, index: number, divisions: number): Xml[] => {
  const symbol = bar.symbols[index];
  if (symbol === undefined) return [];
  const tuplet = symbol.tuplet === undefined ? undefined : bar.tuplets[symbol.tuplet];
  const duration = xml('duration', {}, ticks(symbol.duration, divisions));
  const type = symbol.wholeBar === true ? undefined : xml('type', {}, TYPE[symbol.value.base]);
  const dots = Array.from({ length: symbol.value.dots }, () => xml('dot'));
  const ratio =
    tuplet === undefined
      ? undefined
      : xml(
          'time-modification',
          {},
          xml('actual-notes', {}, tuplet.actual),
          xml('normal-notes', {}, tuplet.normal),
        );
  const edge = tupletEdge(bar, symbol);
  const alone = tuplet !== undefined && equal(symbol.duration, tuplet.duration);
  const bracket: XmlChild[] = alone
    ? [xml('tuplet', { type: 'start' }), xml('tuplet', { type: 'stop' })]
    : edge === undefined
      ? []
      : [xml('tuplet', edge === 'start' ? { type: edge, bracket: 'yes' } : { type: edge })];
  if (symbol.pitches.length === 0) {
    return [
      xml(
        'note',
        {},
        xml('rest', symbol.wholeBar === true ? { measure: 'yes' } : {}),
        duration,
        xml('voice', {}, 1),
        type,
        dots,
        ratio,
        bracket.length > 0 && xml('notations', {}, bracket),
      ),
    ];
  }
  const notes = symbol.pitches.map((pitch, k) => {
    const marks = k === 0 && symbol.articulation !== undefined && !symbol.tiedFrom;
    const notations: XmlChild[] = [
      symbol.tiedFrom && xml('tied', { type: 'stop' }),
      symbol.tiedTo && xml('tied', { type: 'start' }),
      k === 0 && bracket,
      marks && xml('articulations', {}, xml(symbol.articulation ?? 'accent')),
    ];
    const any = symbol.tiedFrom || symbol.tiedTo || (k === 0 && bracket.length > 0) || marks;
    return xml(
      'note',
      {},
      k > 0 && xml('chord'),
      pitchElement(pitch.spelled),
      duration,
      symbol.tiedFrom && xml('tie', { type: 'stop' }),
      symbol.tiedTo && xml('tie', { type: 'start' }),
      xml('voice', {}, 1),
      type,
      dots,
      pitch.accidental !== undefined &&
        xml(
          'accidental',
          pitch.cautionary === true ? { cautionary: 'yes', parentheses: 'yes' } : {},
          ACCIDENTAL[String(pitch.accidental)] ?? 'natural',
        ),
      ratio,
      k === 0 && beamElements(bar, index),
      any && xml('notations', {}, notations),
    );
  });
  return [...graceElements(symbol), ...notes];
};

const pitchElement = (spelled: Spelled): Xml =>
  xml(
    'pitch',
    {},
    xml('step', {}, spelled.letter),
    spelled.alter !== 0 && xml('alter', {}, spelled.alter),
    xml('octave', {}, spelled.octave),
  );

/** Small notes with a stroke through the stem, which take no time from the beat. */
const graceElements = (symbol: ScoreSymbol): Xml[] =>
  (symbol.grace ?? []).map((grace, k) =>
    xml(
      'note',
      {},
      xml('grace', { slash: 'yes' }),
      k > 0 && xml('chord'),
      pitchElement(grace),
      xml('voice', {}, 1),
      xml('type', {}, 'eighth'),
      grace.accidental !== undefined &&
        xml('accidental', {}, ACCIDENTAL[String(grace.accidental)] ?? 'natural'),
      xml('stem', {}, 'up'),
    ),
  );

const attributes = (score: Score, part: ScorePart, divisions: number): Xml => {
  const { soundsAbove } = INSTRUMENTS[part.instrument];
  return xml(
    'attributes',
    {},
    xml('divisions', {}, divisions),
    xml('key', {}, xml('fifths', {}, signature(score.key)), xml('mode', {}, xmlMode(score.key.mode))),
    xml('time', {}, xml('beats', {}, beatsText(score.metre)), xml('beat-type', {}, score.metre.lower)),
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

const beatsText = (m: Metre): string => String(m.upper);
const xmlMode = (mode: Score['key']['mode']): string =>
  mode.includes('minor') ? 'minor' : mode.includes('pentatonic') ? 'major' : mode;

/** Metronome mark and tempo, and swing where the piece begins, before a note of the first part. */
const tempoDirection = (score: Score, tempo: Bpm, offset = 0, swing?: Swing): Xml => {
  const beat = tactus(score.metre);
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

/** Long to short as small whole numbers in lowest terms (MusicXML wants positive integers). */
export const swingRatio = (ratio: number): [number, number] => {
  const f = fraction(Math.round(ratio * 20), 20);
  return [f.n, f.d];
};

const words = (text: string): Xml =>
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
const directionsAt = (score: Score, part: ScorePart, symbol: ScoreSymbol, divisions: number): Xml[] => {
  const offset = (at: Fraction): number => ticks(subtract(at, symbol.onset), divisions);
  const tempi = part === score.parts[0] ? (score.tempi ?? []) : [];
  return [
    ...tempi.filter(t => startsIn(symbol, t.at)).map(t => tempoDirection(score, t.tempo, offset(t.at))),
    ...score.brackets
      .filter(b => b.part === part.id && startsIn(symbol, b.from))
      .map(b => withOffset(words(b.text), offset(b.from))),
    ...(symbol.dynamic === undefined ? [] : [dynamicDirection(symbol.dynamic)]),
  ];
};

const measure = (score: Score, part: ScorePart, bar: ScoreBar, divisions: number): Xml => {
  const first = bar.index === 0;
  const letter = score.letters.find(l => l.bar === bar.index);
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
    ]),
    closes !== undefined && part === score.parts[0] && closes.times > 2 && words(timesText(closes.times)),
    (closes !== undefined || last) &&
      xml(
        'barline',
        { location: 'right' },
        xml('bar-style', {}, 'light-heavy'),
        closes !== undefined && xml('repeat', { direction: 'backward', times: closes.times }),
      ),
  );
};

/**
 * How a repeat played more than twice is marked.
 * @example
 * timesText(4) // => '×4'
 */
export const timesText = (times: number): string => `×${String(times)}`;

const withOffset = (direction: Xml, offset: number): Xml =>
  offset === 0 ? direction : { ...direction, children: [...direction.children, xml('offset', {}, offset)] };

/**
 * A score as a MusicXML 4.0 document (W3C, score-partwise). Ties are written as sound (`tie`) and
 * sign (`tied`), tuplets as `time-modification` and bracket, statements as words over the stave.
 */
export const musicXml = (score: Score): string => {
  const divisions = divisionsFor(score);
  // A volume is a share of the loudest: 50 % leaves room for the +6 dB a part may have.
  const balanced = score.parts.some(part => part.balance !== undefined);
  const tree = xml(
    'score-partwise',
    { version: '4.0' },
    xml('work', {}, xml('work-title', {}, score.title)),
    xml(
      'identification',
      {},
      score.codeName !== '' && xml('creator', { type: 'composer' }, score.codeName),
      xml('encoding', {}, xml('software', {}, 'Malletloom')),
    ),
    xml(
      'part-list',
      {},
      score.parts.map((part, i) => {
        const instrument = INSTRUMENTS[part.instrument];
        return xml(
          'score-part',
          { id: `P${String(i + 1)}` },
          xml('part-name', {}, part.name),
          xml('part-abbreviation', {}, part.short),
          xml(
            'score-instrument',
            { id: `P${String(i + 1)}-I1` },
            xml('instrument-name', {}, instrument.name),
            xml('instrument-sound', {}, instrument.sound),
          ),
          xml(
            'midi-instrument',
            { id: `P${String(i + 1)}-I1` },
            xml('midi-channel', {}, i + 1),
            xml('midi-program', {}, instrument.program + 1),
            balanced &&
              xml('volume', {}, Number(Math.min(100, 50 * 10 ** ((part.balance ?? 0) / 20)).toFixed(2))),
          ),
        );
      }),
    ),
    score.parts.map((part, i) =>
      xml(
        'part',
        { id: `P${String(i + 1)}` },
        part.bars.map(bar => measure(score, part, bar, divisions)),
      ),
    ),
  );
  return (
    '<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n' +
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">\n' +
    writeXml(tree)
  );
};
