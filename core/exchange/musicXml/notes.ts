import { add, equal } from '../../foundation/fraction.ts';
import type { Spelled } from '../../foundation/pitch.ts';
import type { GracePitch, ScoreBar, ScoreSymbol, WrittenPitch } from '../../score/score.ts';
import { type Xml, xml, type XmlChild } from '../xml.ts';
import { beamElements } from './beams.ts';
import { rollMarks } from '../../score/roll.ts';
import { ticks } from './divisions.ts';
import type { LineNumbers } from './lineNumbers.ts';
import { ACCIDENTAL, TYPE } from './names.ts';

const tupletEdge = (bar: ScoreBar, symbol: ScoreSymbol): 'start' | 'stop' | undefined => {
  const tuplet = symbol.tuplet === undefined ? undefined : bar.tuplets[symbol.tuplet];
  if (tuplet === undefined) return undefined;
  if (equal(symbol.onset, tuplet.onset)) return 'start';
  return equal(add(symbol.onset, symbol.duration), add(tuplet.onset, tuplet.duration)) ? 'stop' : undefined;
};

/** The notes of one symbol, one after another as a chord, its grace notes before; or its rest. */
export const noteElements = (
  bar: ScoreBar,
  index: number,
  divisions: number,
  lines: ReadonlyMap<WrittenPitch, LineNumbers>,
): Xml[] => {
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
    const line = lines.get(pitch);
    const marks = k === 0 && symbol.articulation !== undefined && !symbol.tiedFrom;
    const slurred = k === 0 && symbol.grace !== undefined;
    const notations: XmlChild[] = [
      symbol.tiedFrom && xml('tied', { type: 'stop' }),
      symbol.tiedTo && xml('tied', { type: 'start' }),
      symbol.ring === true && xml('tied', { type: 'let-ring' }),
      k === 0 && bracket,
      slurred && xml('slur', { type: 'stop', number: 1 }),
      // Slurs of grace notes have number 1, and both may meet at one note.
      k === 0 && symbol.slur !== undefined && xml('slur', { type: symbol.slur, number: 2 }),
      line?.ends !== undefined && glissando('stop', line.ends),
      line?.begins !== undefined && glissando('start', line.begins),
      k === 0 &&
        symbol.roll === true &&
        xml('ornaments', {}, xml('tremolo', { type: 'single' }, rollMarks(symbol))),
      k === 0 && symbol.dead === true && xml('technical', {}, xml('other-technical', {}, 'dead stroke')),
      marks && xml('articulations', {}, xml(symbol.articulation ?? 'accent')),
      k === 0 && symbol.fermata === true && xml('fermata', { type: 'upright' }),
    ];
    const own =
      slurred ||
      marks ||
      line?.begins !== undefined ||
      line?.ends !== undefined ||
      symbol.ring === true ||
      (k === 0 &&
        (symbol.slur !== undefined ||
          symbol.fermata === true ||
          symbol.roll === true ||
          symbol.dead === true));
    const any = own || symbol.tiedFrom || symbol.tiedTo || (k === 0 && bracket.length > 0);
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
  return [
    ...graceElements(symbol),
    ...notes,
    ...symbol.pitches.flatMap(p => smallEnd(p.smallEnd, lines.get(p)?.small)),
  ];
};

const glissando = (type: 'start' | 'stop', number: number): Xml =>
  xml('glissando', { type, number, 'line-type': 'solid' }, type === 'start' ? 'gliss.' : undefined);

/** A line that leads to no note ends with a small head in brackets, which takes no time of its own. */
const smallEnd = (end: GracePitch | undefined, number: number | undefined): Xml[] =>
  end === undefined || number === undefined
    ? []
    : [
        xml(
          'note',
          {},
          xml('grace', { 'steal-time-previous': 0 }),
          pitchElement(end),
          xml('voice', {}, 1),
          xml('type', {}, 'quarter'),
          end.accidental !== undefined &&
            xml('accidental', {}, ACCIDENTAL[String(end.accidental)] ?? 'natural'),
          xml('stem', {}, 'none'),
          xml('notehead', { parentheses: 'yes' }, 'normal'),
          xml('notations', {}, glissando('stop', number)),
        ),
      ];

const pitchElement = (spelled: Spelled): Xml =>
  xml(
    'pitch',
    {},
    xml('step', {}, spelled.letter),
    spelled.alter !== 0 && xml('alter', {}, spelled.alter),
    xml('octave', {}, spelled.octave),
  );

/**
 * Small notes with a stroke, which take no time from the beat; those of a drag or a ruff have a beam (common practice,
 * no source). A slur from the first.
 */
const graceElements = (symbol: ScoreSymbol): Xml[] => {
  const ruff = symbol.ruff ?? [];
  const isOne = ruff.length === 0;
  const small = [
    ...ruff.map(grace => ({ grace, chord: false })),
    ...(symbol.grace ?? []).map((grace, k) => ({ grace, chord: k > 0 })),
  ];
  return small.map(({ grace, chord }, k) =>
    xml(
      'note',
      {},
      xml('grace', { slash: 'yes' }),
      chord && xml('chord'),
      pitchElement(grace),
      xml('voice', {}, 1),
      xml('type', {}, isOne ? 'eighth' : '16th'),
      grace.accidental !== undefined &&
        xml('accidental', {}, ACCIDENTAL[String(grace.accidental)] ?? 'natural'),
      xml('stem', {}, 'up'),
      ...(isOne || chord
        ? []
        : [1, 2].map(number =>
            xml('beam', { number }, k === 0 ? 'begin' : k === ruff.length ? 'end' : 'continue'),
          )),
      k === 0 && xml('notations', {}, xml('slur', { type: 'start', number: 1, placement: 'below' })),
    ),
  );
};
