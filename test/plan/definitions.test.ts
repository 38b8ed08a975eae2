import { expect, it } from 'vitest';
import { CARDS } from '../../renderer/views/grow/cards.ts';
import { DEFINITIONS } from '../../renderer/views/grow/definitions.ts';

it('every technique has one definition, with the publication it is after', () => {
  expect(Object.keys(DEFINITIONS).sort()).toEqual(CARDS.map(card => card.id).sort());
  for (const { text, source } of Object.values(DEFINITIONS)) {
    expect(text).toMatch(/^[A-Z].*\.$/);
    expect(source).toMatch(/Dictionary of Music, “.+”$/);
  }
});
