import type { ComponentChildren } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import { barLength, beatStarts } from '../../../core/foundation/metre.ts';
import { INSTRUMENTS } from '../../../core/parts/instruments.ts';
import { statementName } from '../../../core/parts/naming.ts';
import { barAndBeat, findStatement, type Plan, placeOf } from '../../../core/parts/plan.ts';
import { type Statement, statementEnd } from '../../../core/parts/statement.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import { scoreOfPlan } from '../../../core/score/fromPlan.ts';
import { preview } from '../../store/app.ts';
import {
  keepPreview,
  leavePreview,
  takeAway,
  targetChoices,
  targetOf,
  tryStep,
} from '../../store/develop.ts';
import { Incipit } from '../parts/incipit.tsx';
import { type Choice, SentenceChoice } from '../parts/sentence.tsx';
import { type Card, type CardChoice, CARDS, FIRST_CHOICE } from './cards.ts';

const numbers = (from: number, to: number, word: (k: number) => string): Choice[] =>
  Array.from({ length: to - from + 1 }, (_, i) => ({ value: String(from + i), text: word(from + i) }));

const stepWord = (k: number): string =>
  k === 0
    ? 'at the same height'
    : `${k > 0 ? 'up' : 'down'} ${String(Math.abs(k))} step${Math.abs(k) === 1 ? '' : 's'}`;

/** The blanks of a card's sentence. */
const Blanks = (props: {
  card: Card;
  choice: CardChoice;
  beats: number;
  onChoose: (choice: CardChoice) => void;
}): ComponentChildren => {
  const { card, choice } = props;
  const set = (change: Partial<CardChoice>): void => {
    props.onChoose({ ...choice, ...change });
  };
  return (
    <>
      {card.blanks.includes('times') ? (
        <SentenceChoice
          before="Play it"
          value={String(choice.times)}
          choices={numbers(1, 8, k => (k === 1 ? 'once' : `${String(k)} times`))}
          onChoose={v => {
            set({ times: Number(v) });
          }}
        />
      ) : null}
      {card.blanks.includes('beats') ? (
        <SentenceChoice
          before="Start"
          value={String(choice.beats)}
          choices={numbers(1, Math.max(4, props.beats), k => `${String(k)} beat${k === 1 ? '' : 's'}`)}
          after=" later."
          onChoose={v => {
            set({ beats: Number(v) });
          }}
        />
      ) : null}
      {card.blanks.includes('steps') ? (
        <SentenceChoice
          before="Move it"
          value={String(choice.steps)}
          choices={numbers(-7, 7, stepWord)}
          onChoose={v => {
            set({ steps: Number(v) });
          }}
        />
      ) : null}
    </>
  );
};

const miniature = (
  motif: Motif,
  from: Statement,
  card: Card,
  choice: CardChoice,
): ReturnType<typeof scoreOfPlan> => {
  const delay = card.blanks.includes('beats')
    ? (beatStarts(motif.metre)[choice.beats] ?? { n: 0, d: 1 })
    : { n: 0, d: 1 };
  const plan: Plan = {
    parts: [{ id: 'm', instrument: 'xylophone' }],
    statements: [
      {
        id: 'm',
        part: 'm',
        at: delay,
        chain: [...from.chain, ...card.treatments(choice)],
        times: card.id === 'repetition' ? Math.min(2, choice.times) : card.id === 'diminution' ? 2 : 1,
      },
    ],
    tempo: 90,
    letters: [],
    nextId: 1,
  };
  return scoreOfPlan(motif, plan, '', '');
};

/** The development pane: what is chosen, where the next thing goes, and the treatments as cards. */
export const Pane = (props: {
  motif: Motif;
  plan: Plan;
  statement: Statement;
  hearPreview: () => void;
}): ComponentChildren => {
  const { motif, plan, statement } = props;
  const part = plan.parts.find(p => p.id === statement.part);
  const from = barAndBeat(motif.metre, statement.at);
  const end = statementEnd(motif, statement);
  const lastBar = Math.ceil((end.n * motif.metre.unit) / (end.d * motif.metre.beats));
  const choices = targetChoices(plan, statement.part);
  const [wanted, setWanted] = useState<string>('');
  const [here, setHere] = useState(false);
  const [bar, setBar] = useState<number | undefined>(undefined);
  const [choice, setChoice] = useState<CardChoice>(FIRST_CHOICE);
  const [open, setOpen] = useState<string | undefined>(undefined);
  const target = choices.some(c => c.value === wanted) ? wanted : (choices[0]?.value ?? '');
  const startBar = bar ?? from.bar;
  const bars = Math.max(8, lastBar + 4);

  const tryCard = (card: Card, next: CardChoice, into = target, inBar = startBar, inPlace = here): void => {
    const to =
      card.place === 'here' || (card.place === 'either' && inPlace) ? ('here' as const) : targetOf(into);
    if (
      tryStep(
        card.title.toLowerCase(),
        card.step(statement.id, next, to, placeOf(motif.metre, inBar, 1), inBar),
      )
    ) {
      setOpen(card.id);
      props.hearPreview();
    }
  };
  const again = (next: CardChoice, into = target, inBar = startBar, inPlace = here): void => {
    const card = CARDS.find(c => c.id === open);
    if (card !== undefined && preview.value !== undefined) tryCard(card, next, into, inBar, inPlace);
  };
  const original = findStatement(plan, statement.id) ?? statement;
  const minis = useMemo(
    () => new Map(CARDS.map(card => [card.id, miniature(motif, original, card, choice)])),
    [motif, original, choice],
  );

  return (
    <aside class="beside pane" aria-label="Development pane">
      <h2>
        {part === undefined ? 'Part' : INSTRUMENTS[part.instrument].name}, bar{lastBar > from.bar ? 's' : ''}{' '}
        {from.bar}
        {lastBar > from.bar ? ` to ${String(lastBar)}` : ''}
      </h2>
      <p class="pane-what">
        {statementName(motif, plan, statement)}
        {plan.statements.length > 1 ? (
          <button
            class="plain word"
            onClick={() => {
              takeAway(statement.id);
            }}
          >
            take it away
          </button>
        ) : null}
      </p>
      <p class="sentences small">
        <SentenceChoice
          before="Write it into"
          value={here ? 'here' : target}
          choices={[...choices, { value: 'here', text: 'the same place' }]}
          onChoose={value => {
            setHere(value === 'here');
            if (value !== 'here') setWanted(value);
            again(choice, value === 'here' ? target : value, startBar, value === 'here');
          }}
        />
        {here ? null : (
          <SentenceChoice
            before="from bar"
            value={String(startBar)}
            choices={numbers(1, bars, String)}
            after="."
            onChoose={value => {
              setBar(Number(value));
              again(choice, target, Number(value));
            }}
          />
        )}
      </p>
      <ul class="cards">
        {CARDS.map(card => {
          const active = open === card.id && preview.value !== undefined;
          const mini = minis.get(card.id);
          return (
            <li key={card.id} class={`card treatment${active ? ' chosen' : ''}`}>
              <button
                class="treatment-try"
                aria-pressed={active}
                onClick={() => {
                  tryCard(card, choice);
                }}
              >
                <span class="treatment-head">
                  <b>{card.title}</b>
                  {active ? <span class="on-page">✓ on the page</span> : null}
                </span>
                <span class="quiet">{card.words}</span>
                {mini === undefined ? null : (
                  <Incipit score={mini} bars={2} label={`${card.title}, what it would give`} scale={0.5} />
                )}
              </button>
              {active ? (
                <div class="treatment-blanks">
                  <Blanks
                    card={card}
                    choice={choice}
                    beats={barLength(motif.metre).n > 0 ? beatStarts(motif.metre).length * 2 : 4}
                    onChoose={next => {
                      setChoice(next);
                      tryCard(card, next);
                    }}
                  />
                  <div class="treatment-answer">
                    <button
                      class="second strong"
                      onClick={() => {
                        keepPreview();
                        setOpen(undefined);
                      }}
                    >
                      Keep this
                    </button>
                    <button
                      class="second"
                      onClick={() => {
                        leavePreview();
                        setOpen(undefined);
                      }}
                    >
                      Leave it
                    </button>
                  </div>
                </div>
              ) : null}
            </li>
          );
        })}
      </ul>
    </aside>
  );
};
