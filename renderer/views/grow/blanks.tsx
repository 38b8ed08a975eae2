import type { ComponentChildren } from 'preact';
import { pitchName } from '../../../core/foundation/pitch.ts';
import { scaleMidi, scaleSize, spell } from '../../../core/foundation/key.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import { semitonesApart, stepsApart } from '../../../core/plan/intervals.ts';
import { afterThe, partName } from '../../../core/plan/partList.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { passageOf, type Statement } from '../../../core/plan/statement.ts';
import { useApp } from '../../desk/appContext.ts';
import { GapChoice } from '../parts/gapChoice.tsx';
import { type Choice, SentenceChoice } from '../parts/sentence.tsx';
import { AccompanyBlanks } from './accompanyBlanks.tsx';
import { VariationBlanks } from './variationBlanks.tsx';
import { KeyBlanks } from './keyBlanks.tsx';
import { MetreBlanks } from './metreBlanks.tsx';
import { AlsoBlank } from './alsoBlank.tsx';
import { type CardChoice, type FACTORS, MOST_OFFERED } from './cardChoice.ts';
import type { Card } from './card.ts';

export const numbers = (from: number, to: number, word: (k: number) => string): Choice[] =>
  Array.from({ length: to - from + 1 }, (_, i) => ({ value: String(from + i), text: word(from + i) }));

const plural = (k: number, noun: string): string => `${String(k)} ${noun}${k === 1 ? '' : 's'}`;
const OCTAVES: Readonly<Record<string, string>> = {
  '-1': 'an octave lower',
  '0': 'at the same height',
  '1': 'an octave higher',
};
const FACTOR_WORDS: Readonly<Record<keyof typeof FACTORS, string>> = {
  '3/2': 'one and a half times',
  '2': 'two times',
  '3': 'three times',
  '4': 'four times',
};

/** The notes an inversion may be turned about: each of the idea's, once. */
const axes = (motif: Motif, statement: Statement, by: CardChoice['by']): Choice[] => {
  const seen = new Map<string, string>();
  for (const note of passageOf(motif, statement).notes) {
    const midi = scaleMidi(motif.key, note);
    seen.set(String(by === 'scale' ? note.degree : midi), pitchName(spell(motif.key, midi)));
  }
  return [{ value: 'first', text: 'its first note' }, ...[...seen].map(([value, text]) => ({ value, text }))];
};

interface BlankProps {
  readonly card: Card;
  readonly choice: CardChoice;
  readonly motif: Motif;
  readonly plan: Plan;
  readonly statement: Statement;
  readonly beats: number;
  readonly bars: number;
  readonly onChoose: (choice: CardChoice) => void;
}

const Bars = (props: BlankProps): ComponentChildren => {
  const { choice, bars, onChoose } = props;
  return (
    <>
      <SentenceChoice
        before="From bar"
        value={String(choice.from)}
        choices={numbers(1, bars, String)}
        onChoose={v => {
          onChoose({ ...choice, from: Number(v), to: Math.max(Number(v), choice.to) });
        }}
      />
      <SentenceChoice
        before="to bar"
        value={String(Math.min(choice.to, bars))}
        choices={numbers(choice.from, bars, String)}
        onChoose={v => {
          onChoose({ ...choice, to: Number(v) });
        }}
      />
    </>
  );
};

/** Whether repeats of the first motif wait for its barline; what was changed by hand keeps its own room. */
const Gap = (props: BlankProps): ComponentChildren => {
  const { desk } = useApp();
  const piece = desk.piece.value;
  if (piece === undefined || props.statement.motif !== undefined) return null;
  return (
    <GapChoice
      piece={piece}
      onChosen={() => {
        props.onChoose(props.choice);
      }}
    />
  );
};

/** Which part the other one of an exchange is. */
const With = (props: BlankProps): ComponentChildren => {
  const { card, choice, plan, statement, onChoose } = props;
  const others = plan.parts.filter(p => p.id !== statement.part);
  const free = card.id === 'section' ? [{ value: '', text: 'no parts exchanged' }] : [];
  return (
    <SentenceChoice
      before={card.id === 'section' ? 'with' : 'trade with'}
      value={choice.with}
      choices={[
        ...free,
        ...others.map(p => ({
          value: p.id,
          text:
            card.id === 'section'
              ? `parts exchanged with the ${afterThe(partName(plan, p))}`
              : `the ${afterThe(partName(plan, p))}`,
        })),
      ]}
      onChoose={v => {
        onChoose({ ...choice, with: v });
      }}
    />
  );
};

/** The blanks of a card's sentence. */
export const Blanks = (props: BlankProps): ComponentChildren => {
  const { card, choice, onChoose } = props;
  const set = (change: Partial<CardChoice>): void => {
    onChoose({ ...choice, ...change });
  };
  const has = (blank: Card['blanks'][number]): boolean => card.blanks.includes(blank);
  return (
    <>
      {has('bars') ? <Bars {...props} /> : null}
      {has('times') ? (
        <SentenceChoice
          before="Play it"
          value={String(choice.times)}
          choices={numbers(1, MOST_OFFERED, k => (k === 1 ? 'once' : `${String(k)} times`))}
          onChoose={v => {
            set({ times: Number(v) });
          }}
        />
      ) : null}
      {has('times') ? <Gap {...props} /> : null}
      {has('copies') ? (
        <SentenceChoice
          before={card.id === 'section' ? 'Again' : 'Go on'}
          value={String(choice.copies)}
          choices={numbers(1, 8, k => (k === 1 ? 'once' : `${String(k)} times`))}
          onChoose={v => {
            set({ copies: Number(v) });
          }}
        />
      ) : null}
      {has('beats') ? (
        <SentenceChoice
          before="Start"
          value={String(choice.beats)}
          choices={numbers(1, Math.max(4, props.beats), k => plural(k, 'beat'))}
          after=" later."
          onChoose={v => {
            set({ beats: Number(v) });
          }}
        />
      ) : null}
      {has('octaves') ? (
        <SentenceChoice
          before="Play it"
          value={String(choice.octaves)}
          choices={[0, 1, -1].map(k => ({ value: String(k), text: OCTAVES[String(k)] ?? '' }))}
          onChoose={v => {
            set({ octaves: Number(v) });
          }}
        />
      ) : null}
      {has('steps') ? (
        <SentenceChoice
          wraps
          before={has('copies') ? 'each time' : 'Move it'}
          value={String(choice.steps)}
          choices={numbers(
            -12,
            12,
            choice.by === 'semitone' ? semitonesApart : k => stepsApart(k, scaleSize(props.motif.key)),
          ).filter(c => has('by') || Math.abs(Number(c.value)) <= 7)}
          onChoose={v => {
            set({ steps: Number(v) });
          }}
        />
      ) : null}
      {has('by') ? (
        <SentenceChoice
          before=""
          value={choice.by}
          choices={[
            { value: 'scale', text: 'by steps of the scale' },
            { value: 'semitone', text: 'by semitones' },
          ]}
          onChoose={v => {
            set({ by: v === 'semitone' ? 'semitone' : 'scale', axis: undefined });
          }}
        />
      ) : null}
      {has('axis') ? (
        <SentenceChoice
          before="about"
          value={choice.axis === undefined ? 'first' : String(choice.axis)}
          choices={axes(props.motif, props.statement, choice.by)}
          onChoose={v => {
            set({ axis: v === 'first' ? undefined : Number(v) });
          }}
        />
      ) : null}
      {has('factor') ? (
        <SentenceChoice
          before={card.id === 'diminution' ? 'Faster' : 'Slower'}
          value={choice.factor}
          choices={Object.entries(FACTOR_WORDS).map(([value, text]) => ({ value, text }))}
          onChoose={v => {
            set({ factor: v as keyof typeof FACTORS });
          }}
        />
      ) : null}
      {has('slice') ? (
        <>
          <SentenceChoice
            before="The"
            value={choice.slice}
            choices={[
              { value: 'start', text: 'first' },
              { value: 'end', text: 'last' },
            ]}
            onChoose={v => {
              set({ slice: v === 'end' ? 'end' : 'start' });
            }}
          />
          <SentenceChoice
            before=""
            value={String(choice.sliceBeats)}
            choices={numbers(1, 8, k => plural(k, 'beat'))}
            onChoose={v => {
              set({ sliceBeats: Number(v) });
            }}
          />
        </>
      ) : null}
      {has('with') ? <With {...props} /> : null}
      {has('letter') ? (
        <SentenceChoice
          before=""
          value={choice.letter ? 'yes' : 'no'}
          choices={[
            { value: 'yes', text: 'with a rehearsal letter' },
            { value: 'no', text: 'with no letter' },
          ]}
          onChoose={v => {
            set({ letter: v === 'yes' });
          }}
        />
      ) : null}
      <AccompanyBlanks
        blanks={card.blanks}
        choice={choice}
        motif={props.motif}
        plan={props.plan}
        onChoose={onChoose}
      />
      {has('otherKey') ? (
        <KeyBlanks choice={choice} motif={props.motif} plan={props.plan} onChoose={onChoose} />
      ) : null}
      {has('otherMetre') ? (
        <MetreBlanks choice={choice} motif={props.motif} plan={props.plan} onChoose={onChoose} />
      ) : null}
      {has('vary') ? (
        <VariationBlanks
          motif={props.motif}
          statement={props.statement}
          choice={choice}
          onChoose={onChoose}
        />
      ) : null}
      {has('also') ? <AlsoBlank {...props} /> : null}
    </>
  );
};
