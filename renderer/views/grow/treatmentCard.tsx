import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { beatStarts } from '../../../core/foundation/metre.ts';
import type { Problem } from '../../../core/foundation/result.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { lastBar } from '../../../core/growing/sections.ts';
import type { Statement } from '../../../core/plan/statement.ts';
import type { Score } from '../../../core/score/score.ts';
import { Incipit } from '../parts/incipit.tsx';
import { Blanks } from './blanks.tsx';
import type { CardChoice } from './cardChoice.ts';
import type { Card } from './card.ts';

/** One treatment: its name on one line; once tried, what it does in plain words, a miniature and its sentence. */
export const TreatmentCard = (props: {
  card: Card;
  active: boolean;
  /** Why it is not tried as it stands. */
  refused: Problem | undefined;
  choice: CardChoice;
  motif: Motif;
  plan: Plan;
  statement: Statement;
  miniature: Score | undefined;
  onTry: () => void;
  onChoose: (choice: CardChoice) => void;
  onExplain: () => void;
}): ComponentChildren => {
  const { card, active, motif, plan } = props;
  const item = useRef<HTMLLIElement>(null);
  useEffect(() => {
    if (active) item.current?.scrollIntoView({ block: 'nearest' });
  }, [active]);
  return (
    <li ref={item} class={`treatment${active ? ' card chosen' : ''}`}>
      <div class="treatment-line">
        <button class="treatment-try" aria-pressed={active} title={card.words} onClick={props.onTry}>
          <b>{card.title}</b>
          {active ? (
            <span class="on-page">{props.refused === undefined ? '✓ trying' : 'not tried'}</span>
          ) : null}
        </button>
        <button
          class="tool explain"
          aria-label={`${card.title}: what is it?`}
          title="What is it?"
          onClick={props.onExplain}
        >
          ?
        </button>
      </div>
      {active ? (
        <div class="treatment-blanks">
          <p class="quiet">{card.words}</p>
          {props.miniature === undefined ? null : (
            <Incipit
              score={props.miniature}
              bars={2}
              label={`${card.title}, what it would give`}
              scale={0.5}
            />
          )}
          <Blanks
            card={card}
            choice={props.choice}
            motif={motif}
            plan={plan}
            statement={props.statement}
            beats={beatStarts(motif.metre).length * 2}
            bars={lastBar(motif, plan)}
            onChoose={props.onChoose}
          />
        </div>
      ) : null}
    </li>
  );
};
