import { INSTRUMENTS } from '../instruments/instruments.ts';
import type { Score } from '../score/score.ts';
import { divisionsFor } from './musicXml/divisions.ts';
import { lineNumbers } from './musicXml/lineNumbers.ts';
import { measure } from './musicXml/measure.ts';
import { writeXml, type Xml, xml } from './xml.ts';

/** The bracket at the left of a system, and barlines through all its staves. */
const group = (edge: 'start' | 'stop'): Xml =>
  xml(
    'part-group',
    { number: 1, type: edge },
    edge === 'start' && [xml('group-symbol', {}, 'bracket'), xml('group-barline', {}, 'yes')],
  );

/**
 * A score as a MusicXML 4.0 document (W3C, score-partwise). Ties are written as sound (`tie`) and
 * sign (`tied`), tuplets as `time-modification` and bracket, statements as words over the stave.
 */
export const musicXml = (score: Score): string => {
  const divisions = divisionsFor(score);
  // A volume is a share of the loudest: 50 % leaves room for the +6 dB a part may have.
  const balanced = score.parts.some(part => part.balance !== undefined);
  const many = score.parts.length > 1;
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
      many && group('start'),
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
      many && group('stop'),
    ),
    score.parts.map((part, i) => {
      const lines = lineNumbers(part);
      return xml(
        'part',
        { id: `P${String(i + 1)}` },
        part.bars.map(bar => measure(score, part, bar, divisions, lines)),
      );
    }),
  );
  return (
    '<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n' +
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">\n' +
    writeXml(tree)
  );
};
