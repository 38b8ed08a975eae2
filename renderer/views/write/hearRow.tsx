import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { Piece } from '../../../core/piece/piece.ts';
import type { Score } from '../../../core/score/score.ts';
import { hearing } from '../../store/app.ts';
import type { Listening } from '../../store/hear.ts';
import { SentenceChoice } from '../parts/sentence.tsx';

const SPEEDS = ['100', '90', '80', '70', '60', '50'];

/** Compare by ear: the take, the page, or one after the other, at full or slower speed. */
export const HearRow = (props: { piece: Piece; score: Score; listening: Listening }): ComponentChildren => {
  const { piece, score, listening } = props;
  const [speed, setSpeed] = useState('100');
  const rate = Number(speed) / 100;
  const now = hearing.value?.what;
  const hearTake = (then?: () => void): void => {
    listening.take(piece.take, piece.instrument, rate, then);
  };
  const hearPage = (): void => {
    listening.score('page', score, rate);
  };
  return (
    <div class="hear-row">
      <button
        class="second"
        aria-pressed={now === 'take'}
        onClick={() => {
          if (now === 'take') listening.stop();
          else hearTake();
        }}
      >
        {now === 'take' ? 'Stop' : 'Hear the take'}
      </button>
      <button
        class="second"
        aria-pressed={now === 'page'}
        onClick={() => {
          if (now === 'page') listening.stop();
          else hearPage();
        }}
      >
        {now === 'page' ? 'Stop' : 'Hear the page'}
      </button>
      <button
        class="second"
        onClick={() => {
          hearTake(hearPage);
        }}
      >
        One, then the other
      </button>
      <SentenceChoice
        before="at"
        value={speed}
        choices={SPEEDS.map(s => ({ value: s, text: `${s} %` }))}
        after=" speed"
        onChoose={setSpeed}
      />
    </div>
  );
};
