import type { ComponentChildren } from 'preact';
import type { Piece } from '../../../core/piece/piece.ts';
import type { Reading } from '../../../core/reading/model/reading.ts';
import { useApp } from '../../desk/appContext.ts';
import { hint } from '../../desk/commands/reading.ts';
import { SentenceNumber } from '../parts/sentence.tsx';
import { HELP } from '../help/helpWords.ts';

const LEAST = 20;
const MOST = 400;

const Word = (props: { text: string; title: string; onPress: () => void }): ComponentChildren => (
  <button class="tool" title={props.title} onClick={props.onPress}>
    {props.text}
  </button>
);

const isTapped = (piece: Piece): boolean => (piece.hints.taps ?? []).length > 0;

/** The tempo as it is read. With a click, or tapped, it is not the reader's to guess. */
export const Tempo = (props: { piece: Piece; reading: Reading; beat: string }): ComponentChildren => {
  const { asking } = useApp();
  const { piece, reading, beat } = props;
  const clicked = piece.take.click !== undefined && piece.hints.free !== true;
  const tempo = Math.round(reading.tempo);
  return clicked || isTapped(piece) ? (
    <span class="sentence">
      {beat} = <b>{tempo}</b>
    </span>
  ) : (
    <SentenceNumber
      before={`${beat} =`}
      help={HELP.readTempo}
      value={tempo}
      least={LEAST}
      most={MOST}
      onChoose={value => {
        void asking.ask(hint, `${beat} = ${String(value)}`, { tempo: value });
      }}
    />
  );
};

/** The ways to put a wrong beat right: counted half or twice as fast, or tapped. */
export const Recount = (props: { piece: Piece; reading: Reading; onTap: () => void }): ComponentChildren => {
  const { desk, asking, tapping } = useApp();
  const { piece, reading } = props;
  const tapped = isTapped(piece);
  const count = (times: number): void => {
    const asked = reading.tempo * times;
    if (asked >= LEAST && asked <= MOST)
      void asking.ask(hint, times > 1 ? 'count twice as fast' : 'count half as fast', {
        tempo: asked,
        pins: [],
      });
  };
  return (
    <span class="sentence-group">
      <span>The beat:</span>
      {tapped ? null : (
        <>
          <Word
            text="half"
            title="Count half as fast"
            onPress={() => {
              count(0.5);
            }}
          />
          <Word
            text="double"
            title="Count twice as fast"
            onPress={() => {
              count(2);
            }}
          />
        </>
      )}
      <Word
        text={tapped ? 'as tapped; tap again' : 'tap the beat'}
        title="The take replays; tap along"
        onPress={() => {
          props.onTap();
          tapping.begin(desk.hearSettings.peek().speed / 100);
        }}
      />
      {tapped ? (
        <Word
          text="forget the taps"
          title="Let the reader find the beat"
          onPress={() => {
            void asking.ask(hint, 'forget the taps', { taps: [] });
          }}
        />
      ) : null}
    </span>
  );
};
