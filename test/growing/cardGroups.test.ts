import { describe, expect, it } from 'vitest';
import { grouped } from '../../renderer/views/grow/cardGroups.ts';
import { CARDS } from '../../renderer/views/grow/cards.ts';

describe('cards in groups', () => {
  it('every card stands in one group, in the order it is given', () => {
    const groups = grouped(CARDS);
    expect(groups.map(group => group.title)).toEqual([
      'Again',
      'Another part',
      'Change the tune',
      'Sections',
      'Ending',
    ]);
    const all = groups.flatMap(group => group.cards);
    expect([...all].sort((a, b) => (a.id < b.id ? -1 : 1))).toEqual(
      [...CARDS].sort((a, b) => (a.id < b.id ? -1 : 1)),
    );
    for (const { cards } of groups)
      expect(cards).toEqual(CARDS.filter(card => cards.some(one => one.id === card.id)));
  });

  it('what changes the tune is together; a group without cards has no heading', () => {
    const [, , change] = grouped(CARDS);
    expect(change?.cards.map(card => card.id)).toEqual(
      expect.arrayContaining(['augmentation', 'diminution', 'inversion', 'retrograde', 'variation']),
    );
    expect(change?.cards.some(card => card.place === 'bars')).toBe(false);
    expect(grouped(CARDS.filter(card => card.id === 'ending')).map(group => group.title)).toEqual(['Ending']);
  });
});
