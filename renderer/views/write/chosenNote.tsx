import { type ComponentChildren, Fragment } from 'preact';
import {
  compare,
  equal,
  type Fraction,
  multiply,
  parseFraction,
  show,
} from '../../../core/foundation/fraction.ts';
import { spell } from '../../../core/foundation/key.ts';
import { tactus } from '../../../core/foundation/metre.ts';
import {
  type NameStyle,
  type NoteValue,
  valueLength,
  valueName,
  valueOf,
} from '../../../core/foundation/noteValue.ts';
import { pitchName } from '../../../core/foundation/pitch.ts';
import { beatIsInThree } from '../../../core/piece/gridPositions.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import { spelledNote } from '../../../core/piece/spelledNote.ts';
import { positionsOfBar, countWords } from '../../../core/piece/positionWords.ts';
import type { Reading, ReadNote } from '../../../core/reading/model/reading.ts';
import { useApp } from '../../desk/appContext.ts';
import { makeLength, makePitch } from '../../desk/commands/corrections.ts';
import { placeAt } from '../../desk/commands/pins.ts';
import { type Choice, SentenceChoice } from '../parts/sentence.tsx';
import { DOUBTFUL } from './strikeLine.tsx';

const VALUES: readonly NoteValue[] = [1, 2, 4, 8, 16, 32].flatMap(base =>
  ([1, 0] as const).map(dots => ({ base: base as NoteValue['base'], dots })),
);
const TWO_THIRDS: Fraction = { n: 2, d: 3 };

/** Lengths a note may be given: plain and dotted values, thirds in a triplet, and the one it has. */
const lengthChoices = (reading: Reading, note: ReadNote, style: NameStyle): Choice[] => {
  const plain = VALUES.map(v => ({ length: valueLength(v), text: valueName(v, style) }));
  const thirds = beatIsInThree(reading, note.onset)
    ? ([4, 8, 16] as const).map(base => ({
        length: multiply(valueLength({ base, dots: 0 }), TWO_THIRDS),
        text: `triplet ${valueName({ base, dots: 0 }, style)}`,
      }))
    : [];
  const all = [...plain, ...thirds];
  if (!all.some(v => equal(v.length, note.duration))) {
    const beats = (note.duration.n * tactus(reading.metre).d) / (note.duration.d * tactus(reading.metre).n);
    const value = valueOf(note.duration);
    const text =
      value === undefined ? `${beats.toFixed(2).replace(/\.?0+$/, '')} beats, tied` : valueName(value, style);
    all.push({ length: note.duration, text });
  }
  return all.sort((a, b) => compare(b.length, a.length)).map(v => ({ value: show(v.length), text: v.text }));
};

const pitchChoices = (piece: Piece, reading: Reading, note: ReadNote): Choice[] =>
  Array.from({ length: 25 }, (_, i) => note.pitch + 12 - i)
    .filter(p => p >= 0 && p <= 127)
    .map(p => ({
      value: String(p),
      text: pitchName(p === note.pitch ? spelledNote(reading, piece.key, note) : spell(piece.key, p)),
    }));

/** The chosen note as a sentence: each underlined word can be put right. */
export const ChosenNote = (props: { piece: Piece; reading: Reading; note: ReadNote }): ComponentChildren => {
  const { desk, asking } = useApp();
  const { piece, reading, note } = props;
  const places = positionsOfBar(reading.metre, note.onset);
  const value = valueOf(note.duration);
  return (
    <span class="sentences chosen-words">
      <SentenceChoice
        before="Note:"
        value={String(note.pitch)}
        choices={pitchChoices(piece, reading, note)}
        onChoose={pitch => {
          desk.run(makePitch, note, Number(pitch));
        }}
      />
      <SentenceChoice
        before={value === undefined ? 'lasting' : 'a'}
        value={show(note.duration)}
        choices={lengthChoices(reading, note, desk.nameStyle.value)}
        onChoose={length => {
          const chosen = parseFraction(length);
          if (chosen !== undefined) desk.run(makeLength, note, chosen);
        }}
      />
      <SentenceChoice
        before="at"
        value={show(note.onset)}
        choices={places.map(at => ({ value: show(at), text: countWords(reading.metre, at) }))}
        onChoose={at => {
          const chosen = parseFraction(at);
          if (chosen !== undefined) void asking.ask(placeAt, note, chosen);
        }}
      />
      {note.roll === undefined ? null : <span>rolled</span>}
      {note.gliss === undefined ? null : (
        <span>{`glissando to ${pitchName(spell(piece.key, note.gliss.to))}`}</span>
      )}
      {note.doubt >= DOUBTFUL && (note.elsewhere?.length ?? 0) > 0 ? (
        <span>
          might be at{' '}
          {note.elsewhere?.slice(0, 2).map((onset, i) => (
            <Fragment key={i}>
              {i === 0 ? '' : ' or '}
              <button
                class="plain word"
                onClick={() => {
                  void asking.ask(placeAt, note, onset);
                }}
              >
                {countWords(reading.metre, onset)}
              </button>
            </Fragment>
          ))}
        </span>
      ) : null}
    </span>
  );
};
