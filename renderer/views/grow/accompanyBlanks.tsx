import type { ComponentChildren } from 'preact';
import { lastNotes } from '../../../core/growing/ending.ts';
import { type DroneFigure, type StepChoice, stepChoices } from '../../../core/plan/accompaniment.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import { afterThe, partName } from '../../../core/plan/partList.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { type Choice, SentenceChoice } from '../parts/sentence.tsx';
import type { Blank, CardChoice, CHORDS } from './cardChoice.ts';
import { lastOf, lowOf } from './lowNotes.ts';

const FIGURES: readonly { readonly value: DroneFigure; readonly text: string }[] = [
  { value: 'simple', text: 'together (simple)' },
  { value: 'broken', text: 'one after the other (broken)' },
  { value: 'crossover', text: 'hand over hand (crossover)' },
];
const OTHERS: readonly Choice[] = [
  { value: '4', text: 'and the fifth over it' },
  { value: '2', text: 'and the third over it' },
  { value: '3', text: 'and the fourth over it' },
  { value: '7', text: 'and its octave' },
  { value: '0', text: 'alone' },
];
const CHORD_WORDS: Readonly<Record<keyof typeof CHORDS, string>> = {
  fifth: 'with its fifth (two mallets)',
  third: 'with its third (two mallets)',
  triad: 'with its third and fifth (three notes)',
};

/** Notes as choices, by name. */
const named = (choices: readonly StepChoice[]): Choice[] =>
  choices.map(({ step, name }) => ({ value: String(step), text: name }));

/** The blanks of drones, chords and endings: every note is the pupil's to choose. */
export const AccompanyBlanks = (props: {
  blanks: readonly Blank[];
  choice: CardChoice;
  motif: Motif;
  plan: Plan;
  onChoose: (choice: CardChoice) => void;
}): ComponentChildren => {
  const { blanks, choice, motif, plan, onChoose } = props;
  const set = (change: Partial<CardChoice>): void => {
    onChoose({ ...choice, ...change });
  };
  const bars = choice.forBars ?? Math.max(1, choice.to - choice.from + 1);
  return (
    <>
      {blanks.includes('low') ? (
        <SentenceChoice
          before={blanks.includes('chord') ? 'On' : 'The note'}
          value={String(lowOf(choice, motif))}
          choices={named(stepChoices(motif.key, motif))}
          onChoose={v => {
            set({ low: Number(v) });
          }}
        />
      ) : null}
      {blanks.includes('other') ? (
        <SentenceChoice
          wraps
          before=""
          value={String(choice.other)}
          choices={OTHERS}
          onChoose={v => {
            set({ other: Number(v) });
          }}
        />
      ) : null}
      {blanks.includes('chord') ? (
        <SentenceChoice
          wraps
          before=""
          value={choice.chord}
          choices={Object.entries(CHORD_WORDS).map(([value, text]) => ({ value, text }))}
          onChoose={v => {
            set({ chord: v as keyof typeof CHORDS });
          }}
        />
      ) : null}
      {blanks.includes('figure') && choice.other !== 0 ? (
        <SentenceChoice
          before="struck"
          value={choice.figure}
          choices={FIGURES}
          onChoose={v => {
            set({ figure: v as DroneFigure });
          }}
        />
      ) : null}
      {blanks.includes('forBars') ? (
        <SentenceChoice
          before="for"
          value={String(bars)}
          choices={Array.from({ length: Math.max(16, bars) }, (_, i) => ({
            value: String(i + 1),
            text: i === 0 ? 'one bar' : `${String(i + 1)} bars`,
          }))}
          onChoose={v => {
            set({ forBars: Number(v) });
          }}
        />
      ) : null}
      {blanks.includes('last')
        ? plan.parts.map(part => (
            <SentenceChoice
              key={part.id}
              before={`The ${afterThe(partName(plan, part))} ends on`}
              value={String(lastOf(choice, motif, plan, part.id))}
              choices={named(lastNotes(motif, plan, part.id).choices)}
              onChoose={v => {
                set({ last: { ...choice.last, [part.id]: Number(v) } });
              }}
            />
          ))
        : null}
    </>
  );
};
