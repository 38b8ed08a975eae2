import type { Card } from './card.ts';

interface Group {
  readonly title: string;
  readonly cards: readonly Card[];
}

/** Which cards stand together, by what a pupil wants to do next; what is not named here changes the tune. */
const GROUPS: readonly (readonly [title: string, ids: readonly string[]])[] = [
  ['Again', ['repetition', 'sequence', 'modulating-sequence']],
  ['Another part', ['second-part', 'canon', 'imitation', 'drone', 'chord']],
  ['Change the tune', []],
  ['Sections', ['section', 'exchange', 'key-change', 'metre-change']],
  ['Ending', ['ending']],
];
const CHANGE = 2;

const groupOf = (card: Card): number => {
  const at = GROUPS.findIndex(([, ids]) => ids.includes(card.id));
  return at < 0 ? CHANGE : at;
};

/** Cards under their headings, in the order they are given. */
export const grouped = (cards: readonly Card[]): readonly Group[] =>
  GROUPS.map(([title], at) => ({ title, cards: cards.filter(card => groupOf(card) === at) })).filter(
    group => group.cards.length > 0,
  );
