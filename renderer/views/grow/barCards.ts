import { keyName } from '../../../core/foundation/key.ts';
import { metreInWords } from '../../../core/foundation/metre.ts';
import { barAfter } from '../../../core/growing/sections.ts';
import type { Treatment } from '../../../core/motif/treatment.ts';
import type { Card } from './card.ts';
import { endingOf, lastOf } from './lowNotes.ts';
import { keyBarOf, keyWritten } from './otherKeys.ts';
import { metreBarOf, otherMetreOf } from './otherMetres.ts';

const none = (): readonly Treatment[] => [];

/** The cards that work on whole bars of all parts, not on one statement. */
export const BAR_CARDS: readonly Card[] = [
  {
    id: 'ending',
    title: 'Ending',
    words: 'Everybody stops together on one last long note.',
    listen: 'An ending on the key note sounds finished. On another note it sounds like a question.',
    blanks: ['last'],
    place: 'bars',
    treatments: none,
    accompaniment: endingOf,
    step: (choice, { motif, plan, statement }) => ({
      kind: 'ending',
      statement: statement.id,
      steps: Object.fromEntries(plan.parts.map(part => [part.id, lastOf(choice, motif, plan, part.id)])),
    }),
  },
  {
    id: 'key-change',
    title: 'Another key',
    words: 'From a letter on, everything sounds higher or lower, in a new key.',
    listen:
      'The tune is the same, and yet it feels like a new place. Going home again is a change of key too.',
    blanks: ['otherKey'],
    place: 'bars',
    treatments: none,
    step: (choice, { motif, plan, statement }) => ({
      kind: 'key',
      statement: statement.id,
      bar: keyBarOf(choice, motif, plan),
      to: choice.otherKey,
    }),
    done: (choice, { motif, plan }) => {
      const bar = keyBarOf(choice, motif, plan);
      const there = { ...choice.otherKey, bar: bar - 1 };
      return `${keyName(keyWritten(motif.key, there))} from bar ${String(bar)} on`;
    },
  },
  {
    id: 'metre-change',
    title: 'Another metre',
    words: 'From a letter on, the bars have other beats. The tune’s notes keep their lengths.',
    listen: 'The strong beats fall on other notes. Count along: how many beats has a bar now?',
    blanks: ['otherMetre'],
    place: 'bars',
    treatments: none,
    step: (choice, { motif, plan, statement }) => ({
      kind: 'metre',
      statement: statement.id,
      bar: metreBarOf(choice, motif, plan),
      to: otherMetreOf(choice, motif, plan),
    }),
    done: (choice, { motif, plan }) =>
      `${metreInWords(otherMetreOf(choice, motif, plan))} from bar ${String(metreBarOf(choice, motif, plan))} on`,
  },
  {
    id: 'exchange',
    title: 'Part exchange',
    words: 'Two instruments trade what they play.',
    listen: 'Nothing else changes, and yet it sounds new: the same notes in another colour.',
    blanks: ['bars', 'with'],
    place: 'bars',
    treatments: none,
    step: (choice, { statement }) => ({
      kind: 'exchange',
      from: choice.from,
      to: choice.to,
      pair: [statement.part, choice.with],
    }),
  },
  {
    id: 'section',
    title: 'Another section',
    words: 'These bars again, all parts together: the same, moved, or with parts exchanged.',
    listen: 'Pieces are built of sections. Musicians call them A and B, and find them by their letters.',
    blanks: ['bars', 'copies', 'steps', 'with', 'letter'],
    usual: { steps: 0, copies: 1 },
    place: 'bars',
    treatments: none,
    step: (choice, { motif, plan, statement }) => ({
      kind: 'section',
      from: choice.from,
      to: choice.to,
      toBar: barAfter(motif, plan, choice.from),
      copies: choice.copies,
      steps: choice.steps,
      letter: choice.letter,
      ...(choice.with === '' ? {} : { exchange: [statement.part, choice.with] as const }),
    }),
  },
];
