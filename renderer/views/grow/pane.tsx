import type { ComponentChildren } from 'preact';
import { useEffect, useMemo, useState } from 'preact/hooks';
import type { Motif } from '../../../core/motif/motif.ts';
import { barringIn } from '../../../core/plan/keys.ts';
import { barAndBeat, positionOf } from '../../../core/plan/beats.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { lastBar } from '../../../core/growing/sections.ts';
import { barsOfStatement } from '../../../core/growing/sections.ts';
import type { Statement } from '../../../core/plan/statement.ts';
import { isRhythmOnly } from '../../../core/piece/rhythmOnly.ts';
import { withRhythmLines } from '../../../core/score/oneLine.ts';
import type { Score } from '../../../core/score/score.ts';
import { useApp } from '../../desk/appContext.ts';
import { writtenStep } from '../../../core/score/writtenStep.ts';
import { type FreePlace, isPart, placesFor, targetChoices } from '../../desk/commands/targets.ts';
import { tryStep } from '../../desk/commands/trial.ts';
import { SentenceChoice } from '../parts/sentence.tsx';
import { numbers } from './blanks.tsx';
import { type CardChoice, FIRST_CHOICE, nextTimes } from './cardChoice.ts';
import type { Card, CardPlace } from './card.ts';
import { grouped } from './cardGroups.ts';
import { CARDS, motifCards } from './cards.ts';
import { ConceptCard } from './conceptCard.tsx';
import { EntryFinder } from './entryFinder.tsx';
import { miniature } from './miniature.ts';
import { StatementHead } from './statementHead.tsx';
import { Taken } from './taken.tsx';
import { TreatmentCard } from './treatmentCard.tsx';
import { HELP } from '../help/helpWords.ts';

/** Where the next thing goes. */
const Where = (props: {
  plan: Plan;
  statement: Statement;
  here: boolean;
  target: string;
  bar: number;
  bars: number;
  onHere: () => void;
  onTarget: (target: string) => void;
  onBar: (bar: number) => void;
}): ComponentChildren => (
  <p class="sentences small">
    <SentenceChoice
      before="Write it into"
      help={HELP.target}
      value={props.here ? 'here' : props.target}
      choices={[...targetChoices(props.plan), { value: 'here', text: 'the same place' }]}
      onChoose={value => {
        if (value === 'here') props.onHere();
        else props.onTarget(value);
      }}
    />
    {props.here ? null : (
      <SentenceChoice
        before="from bar"
        help={HELP.target}
        value={String(props.bar)}
        choices={numbers(1, props.bars, String)}
        after="."
        onChoose={value => {
          props.onBar(Number(value));
        }}
      />
    )}
  </p>
);

/** Whether a card can do anything here: to trade takes two parts, and another key or metre a second bar. */
const fits = (card: Card, motif: Motif, plan: Plan): boolean =>
  card.id === 'exchange'
    ? plan.parts.length > 1
    : !['key-change', 'metre-change'].includes(card.id) || lastBar(motif, plan) > 1;

/** The development pane: what is chosen, where the next thing goes, and the treatments as cards. */
export const Pane = (props: {
  motif: Motif;
  plan: Plan;
  statement: Statement;
  tempo: number;
  hearPreview: () => void;
  /** Whether an entry is being found, in place of the cards. */
  finding: boolean;
  onCards: () => void;
}): ComponentChildren => {
  const { desk } = useApp();
  const { motif, plan, statement } = props;
  const barring = barringIn(motif, plan);
  const own = barsOfStatement(motif, plan, statement);
  const choices = targetChoices(plan);
  const [wanted, setWanted] = useState<string>('');
  const [here, setHere] = useState(false);
  const [bar, setBar] = useState<number | undefined>(undefined);
  /** Where the open card went by itself, its usual place being taken. */
  const [found, setFound] = useState<FreePlace | undefined>(undefined);
  const [chosen, setChosen] = useState<Partial<CardChoice>>({});
  const [open, setOpen] = useState<string | undefined>(undefined);
  const [explained, setExplained] = useState<Card | undefined>(undefined);
  const others = choices.filter(c => !isPart(c, statement.part));
  const usual = { target: others[0]?.value ?? '', bar: barAndBeat(barring, statement.onset).bar };
  const target = choices.some(c => c.value === wanted) ? wanted : (found ?? usual).target;
  const startBar = bar ?? (found ?? usual).bar;
  const second = plan.parts.find(p => p.id !== statement.part)?.id ?? '';
  const usualChoice = { ...FIRST_CHOICE, times: nextTimes(statement.times) };
  const choiceFor = (card: Card | undefined): CardChoice => ({
    ...usualChoice,
    ...own,
    ...card?.usual,
    ...chosen,
  });
  const cards = useMemo(() => [...CARDS, ...motifCards(motif)], [motif]);
  const opened = cards.find(c => c.id === open);
  const choice = choiceFor(opened);

  const tryCard = (
    card: Card,
    next: CardChoice,
    into = target,
    inBar = startBar,
    inPlace = here,
    isPlaceChosen = wanted !== '' || bar !== undefined,
  ): void => {
    const isHere = card.place === 'here' || (card.place === 'either' && inPlace);
    // Two parts to trade: without a choice, with the first other one.
    const full = card.id === 'exchange' && next.with === '' ? { ...next, with: second } : next;
    const placeIn = (where: FreePlace): CardPlace | undefined => {
      const to = isHere ? 'here' : choices.find(c => c.value === where.target)?.target;
      const at = positionOf(barring, where.bar, 1);
      return to === undefined ? undefined : { motif, plan, statement, to, bar: where.bar, at };
    };
    const isFree = (where: FreePlace): boolean => {
      const at = placeIn(where);
      return at !== undefined && writtenStep(motif, plan, card.step(full, at)).ok;
    };
    // Where nobody chose a place, the first try goes where it can be written, if anywhere.
    const first = { target: into, bar: inBar };
    const free =
      isHere || isPlaceChosen || isFree(first)
        ? undefined
        : placesFor(motif, plan, { part: statement.part, bar: usual.bar }).find(isFree);
    const place = placeIn(free ?? first);
    if (place === undefined) return;
    if (free !== undefined) setFound(free);
    setOpen(card.id);
    desk.run(tryStep, card.done?.(full, place) ?? card.title.toLowerCase(), card.step(full, place));
    if (desk.trial.peek() !== undefined) props.hearPreview();
  };
  const again = (next: CardChoice, into = target, inBar = startBar, inPlace = here): void => {
    // What was refused, its place taken say, is tried at the new place as well.
    const asked = desk.trial.peek() !== undefined || desk.refused.peek() !== undefined;
    if (opened !== undefined && asked) tryCard(opened, next, into, inBar, inPlace, true);
  };
  const reading = desk.reading.value;
  const written = reading !== undefined && isRhythmOnly(reading) ? withRhythmLines : (score: Score) => score;
  const shown = useMemo(
    () =>
      opened === undefined || (opened.place === 'bars' && opened.accompaniment === undefined)
        ? undefined
        : written(miniature(motif, statement, opened, { ...choice, also: [] })),
    [
      opened,
      motif,
      statement,
      choice.times,
      choice.beats,
      choice.steps,
      choice.by,
      choice.factor,
      choice.slice,
      choice.sliceBeats,
      choice.axis,
      choice.vary,
      choice.order,
      choice.ornaments,
      choice.last,
      choice.figure,
      choice.low,
      choice.other,
      choice.chord,
    ],
  );
  const trying = desk.trial.value !== undefined;
  const refused = desk.refused.value;
  const asked = trying || refused !== undefined;
  useEffect(() => {
    // Written in or left: another card begins anew. What is refused stays open, to be asked otherwise.
    if (asked) return;
    setOpen(undefined);
    setFound(undefined);
    setChosen({});
  }, [asked]);

  if (props.finding) {
    return (
      <aside class="beside pane" aria-label="Development pane">
        <EntryFinder
          motif={motif}
          plan={plan}
          statement={statement}
          hearPreview={props.hearPreview}
          onClose={props.onCards}
        />
      </aside>
    );
  }
  return (
    <aside class="beside pane" aria-label="Development pane">
      <StatementHead motif={motif} plan={plan} statement={statement} />
      <Where
        plan={plan}
        statement={statement}
        here={here}
        target={target}
        bar={startBar}
        bars={Math.max(8, lastBar(motif, plan) + 4)}
        onHere={() => {
          setHere(true);
          again(choice, target, startBar, true);
        }}
        onTarget={value => {
          setHere(false);
          setWanted(value);
          again(choice, value, startBar, false);
        }}
        onBar={value => {
          setBar(value);
          again(choice, target, value);
        }}
      />
      <Taken hearPreview={props.hearPreview} />
      <div class="cards">
        {grouped(cards.filter(card => fits(card, motif, plan))).map(group => (
          <section key={group.title} class="card-group">
            <h3>{group.title}</h3>
            <ul>
              {group.cards.map(card => (
                <TreatmentCard
                  key={card.id}
                  card={card}
                  active={open === card.id && asked}
                  refused={open === card.id ? refused : undefined}
                  choice={choiceFor(card)}
                  motif={motif}
                  plan={plan}
                  statement={statement}
                  miniature={open === card.id ? shown : undefined}
                  onTry={() => {
                    // Another card starts from what is usual for it.
                    if (open === card.id) {
                      tryCard(card, choice);
                      return;
                    }
                    setChosen({});
                    setFound(undefined);
                    const anew = { ...usualChoice, ...own, ...card.usual };
                    tryCard(card, anew, wanted === '' ? usual.target : target, bar ?? usual.bar);
                  }}
                  onChoose={next => {
                    setChosen(next);
                    tryCard(card, next);
                  }}
                  onExplain={() => {
                    setExplained(card);
                  }}
                />
              ))}
            </ul>
          </section>
        ))}
      </div>
      {explained === undefined ? null : (
        <ConceptCard
          card={explained}
          motif={motif}
          statement={statement}
          choice={choiceFor(explained)}
          tempo={props.tempo}
          onClose={() => {
            setExplained(undefined);
          }}
        />
      )}
    </aside>
  );
};
