import type { ComponentChildren } from 'preact';
import {
  METRES_TO_CHOOSE,
  isCompound,
  metre,
  sameMetre,
  metreInWords,
  tactus,
} from '../../../core/foundation/metre.ts';
import { type NameStyle, valueName, valueOf } from '../../../core/foundation/noteValue.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import { isRhythmOnly } from '../../../core/piece/rhythmOnly.ts';
import type { Grid, Reading, SwingTolerance } from '../../../core/reading/model/reading.ts';
import { useApp } from '../../desk/appContext.ts';
import { hint } from '../../desk/commands/reading.ts';
import { MoreSettings } from '../parts/moreSettings.tsx';
import { GapChoice } from '../parts/gapChoice.tsx';
import { CutMotif, MoreMotifs } from './cutMotif.tsx';
import { KeyChoice } from './keyChoice.tsx';
import { Recount, Tempo } from './tempo.tsx';
import { type Choice, SentenceChoice } from '../parts/sentence.tsx';
import { HELP } from '../help/helpWords.ts';

const gridChoices = (compound: boolean, style: NameStyle): Choice[] => {
  const name = (base: 4 | 8 | 16 | 32): string => valueName({ base, dots: 0 }, style);
  return compound
    ? [
        { value: 'automatic', text: 'whatever fits' },
        { value: 'beat', text: `dotted ${name(4)}` },
        { value: 'half', text: name(8) },
        { value: 'quarter', text: name(16) },
        { value: 'eighth', text: name(32) },
      ]
    : [
        { value: 'automatic', text: 'whatever fits' },
        { value: 'beat', text: name(4) },
        { value: 'half', text: name(8) },
        { value: 'quarter', text: name(16) },
        { value: 'eighth', text: name(32) },
        { value: 'triplet', text: `${name(8)}, with triplets` },
        { value: 'sextuplet', text: `${name(16)}, with triplets` },
      ];
};

const SWING: readonly Choice[] = [
  { value: 'none', text: 'none' },
  { value: 'low', text: 'low' },
  { value: 'medium', text: 'medium' },
  { value: 'high', text: 'high' },
];

/** A file may say a tempo nobody played to, and a click may have gone unheeded: then the beat is looked for. */
const HowPlayed = (props: { piece: Piece }): ComponentChildren => {
  const { asking } = useApp();
  const { take, hints } = props.piece;
  if (take.click === undefined) return null;
  return (
    <SentenceChoice
      before="It was played"
      help={HELP.howPlayed}
      value={hints.free === true ? 'free' : 'click'}
      choices={[
        { value: 'click', text: 'to the click' },
        { value: 'free', text: 'freely, whatever the click' },
      ]}
      after="."
      onChoose={value => {
        // Positions pinned on one beat are none on another.
        void asking.ask(hint, value === 'free' ? 'played freely' : 'played to the click', {
          free: value === 'free',
          pins: [],
        });
      }}
    />
  );
};

/** What is seldom changed, behind one button: how fine the reader writes, and the ways to another beat. */
const MoreOfReading = (props: { piece: Piece; reading: Reading }): ComponentChildren => {
  const { desk, asking } = useApp();
  const { piece, reading } = props;
  return (
    <MoreSettings size="second">
      {close => (
        <>
          <HowPlayed piece={piece} />
          <Recount piece={piece} reading={reading} onTap={close} />
          <SentenceChoice
            before="Smallest value:"
            help={HELP.grid}
            value={piece.hints.grid ?? 'automatic'}
            choices={gridChoices(isCompound(reading.metre), desk.nameStyle.value)}
            onChoose={value => {
              void asking.ask(hint, `smallest value`, { grid: value as Grid });
            }}
          />
          <SentenceChoice
            before="Swing tolerance:"
            help={HELP.swing}
            value={piece.hints.swingTolerance ?? 'medium'}
            choices={SWING}
            onChoose={value => {
              void asking.ask(hint, `swing tolerance ${value}`, { swingTolerance: value as SwingTolerance });
            }}
          />
          <SentenceChoice
            before="Short notes:"
            help={HELP.shortNotes}
            value={piece.hints.letRing === true ? 'ring' : 'rests'}
            choices={[
              { value: 'rests', text: 'with rests' },
              { value: 'ring', text: 'left to ring' },
            ]}
            onChoose={value => {
              void asking.ask(hint, value === 'ring' ? 'let notes ring' : 'write rests', {
                letRing: value === 'ring',
              });
            }}
          />
          <GapChoice piece={piece} />
          <MoreMotifs piece={piece} />
        </>
      )}
    </MoreSettings>
  );
};

/** What the page is written in, one line: changing a word re-reads at once. */
export const ReaderSettings = (props: { piece: Piece; reading: Reading }): ComponentChildren => {
  const { desk, asking } = useApp();
  const { piece, reading } = props;
  const beat = valueName(valueOf(tactus(reading.metre)) ?? { base: 4, dots: 0 }, desk.nameStyle.value);
  return (
    <>
      <SentenceChoice
        before="Metre:"
        help={HELP.metre}
        value={metreInWords(reading.metre)}
        choices={METRES_TO_CHOOSE.map(metreInWords).map(m => ({ value: m, text: m }))}
        onChoose={value => {
          const chosen = METRES_TO_CHOOSE.find(m => metreInWords(m) === value) ?? metre(4, 4);
          if (!sameMetre(chosen, reading.metre))
            void asking.ask(hint, `write it in ${value}`, { metre: chosen });
        }}
      />
      <Tempo piece={piece} reading={reading} beat={beat} />
      {isRhythmOnly(reading) ? null : <KeyChoice piece={piece} reading={reading} />}
      <CutMotif piece={piece} reading={reading} />
      <MoreOfReading piece={piece} reading={reading} />
    </>
  );
};
