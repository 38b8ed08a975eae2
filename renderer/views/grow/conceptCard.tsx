import type { ComponentChildren } from 'preact';
import { useEffect, useMemo } from 'preact/hooks';
import type { Motif } from '../../../core/motif/motif.ts';
import type { Statement } from '../../../core/plan/statement.ts';
import { useApp } from '../../desk/appContext.ts';
import { InWords } from '../parts/inWords.tsx';
import { ScorePage } from '../parts/scorePage.tsx';
import type { CardChoice } from './cardChoice.ts';
import type { Card } from './card.ts';
import { DEFINITIONS } from './definitions.ts';
import { conceptScore } from './miniature.ts';
import { useShownWindow } from '../parts/shownWindow.ts';

const PAGE = { scale: 0.85, above: 6, below: 4, names: false, tempo: false } as const;

/** A concept card: what a technique is, shown and played on the pupil's own idea. */
export const ConceptCard = (props: {
  card: Card;
  motif: Motif;
  statement: Statement;
  choice: CardChoice;
  tempo: number;
  onClose: () => void;
}): ComponentChildren => {
  const { desk, listening } = useApp();
  const { card, motif, statement, choice } = props;
  const dialog = useShownWindow();
  const score = useMemo(
    () => conceptScore(motif, statement, card, choice, props.tempo),
    [motif, statement, card, choice],
  );
  useEffect(() => {
    return listening.stop;
  }, []);
  const playing = desk.hearing.value?.what === 'concept';
  const definition = DEFINITIONS[card.id];
  const shown = card.place !== 'bars';
  return (
    <dialog ref={dialog} class="card keys concept" aria-labelledby="concept-title" onClose={props.onClose}>
      <h2 id="concept-title">{card.title}</h2>
      <p>{card.words}</p>
      {definition === undefined ? null : (
        <p class="definition">
          {definition.text} <cite class="quiet">{definition.source}</cite>
        </p>
      )}
      <p class="quiet">{card.listen}</p>
      {shown ? (
        <>
          <p>{card.place === 'other' ? 'Your idea, and with it:' : 'Your idea, and then:'}</p>
          <div class="concept-page">
            <ScorePage score={score} options={PAGE} label={`${card.title}, on your own idea`} />
            <InWords score={score} />
          </div>
        </>
      ) : null}
      <div class="dialog-foot">
        {shown ? (
          <button
            class="main-action"
            onClick={() => {
              if (playing) listening.stop();
              else listening.score('concept', score);
            }}
          >
            {playing ? 'Stop' : 'Hear it'}
          </button>
        ) : null}
        <form method="dialog">
          <button class="second">Close</button>
        </form>
      </div>
    </dialog>
  );
};
