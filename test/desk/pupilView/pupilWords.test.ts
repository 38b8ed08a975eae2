import { fleschKincaid } from 'flesch-kincaid';
import { syllable } from 'syllable';
import { describe, expect, it } from 'vitest';
import { PUPIL_CARDS } from '../../../renderer/views/pupil/pupilCards.ts';
import { PUPIL_BUTTONS, PUPIL_WORDS } from '../../../renderer/views/pupil/pupilWords.ts';

// Kincaid, Fishburne, Rogers and Chissom, "Derivation of new readability formulas", Navy Research Branch
// Report 8-75 (1975): a grade of 4 is read by a child of nine (grade and five). Syllables by a library, not by us.

/** Grade of a text; each sentence ends with a stop, a question or an exclamation mark. */
const gradeOf = (texts: readonly string[]): number => {
  const all = texts.join(' ');
  const words = all.match(/[\p{L}’]+/gu) ?? [];
  return fleschKincaid({
    sentence: (all.match(/[.!?]/g) ?? []).length,
    word: words.length,
    syllable: words.reduce((sum, word) => sum + syllable(word.replace('’', "'")), 0),
  });
};
const sentences: readonly string[] = [...Object.values(PUPIL_WORDS), ...PUPIL_CARDS.map(card => card.words)];

describe('the words of the pupil view', () => {
  it('can be read by somebody of nine, all together and each for itself', () => {
    expect(gradeOf(sentences)).toBeLessThan(4);
    expect(sentences.filter(text => gradeOf([text]) >= 4.5)).toEqual([]);
    // The measure is no rubber: what the teacher's view says is beyond it.
    expect(gradeOf(['The quantizer offers alternatives according to the chosen tolerance.'])).toBeGreaterThan(
      10,
    );
  });

  it('say one thing in a sentence, and no figure', () => {
    for (const text of sentences) {
      for (const sentence of text.split(/(?<=[.!?]) /))
        expect(sentence.split(' ').length).toBeLessThanOrEqual(11);
      expect(text).toMatch(/[.!?]$/);
      expect(text).not.toMatch(/\d|%/);
    }
  });

  it('name only buttons that there are', () => {
    const buttons: readonly string[] = [...Object.values(PUPIL_BUTTONS), 'Hear'];
    const named = sentences.flatMap(text =>
      [...text.matchAll(/[Pp]ress ([A-Z][^.]*)[.]/g)].map(m => m[1] ?? ''),
    );
    expect(named.length).toBeGreaterThan(3);
    expect(named.filter(name => !buttons.includes(name))).toEqual([]);
    for (const text of Object.values(PUPIL_BUTTONS)) expect(text.split(' ').length).toBeLessThanOrEqual(4);
  });
});
