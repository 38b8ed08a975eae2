import { fleschKincaid } from 'flesch-kincaid';
import { syllable } from 'syllable';
import { describe, expect, it } from 'vitest';
import { ENGLISH, type PupilTexts } from '../../../renderer/views/pupil/texts/english.ts';
import { PUPIL_TEXTS } from '../../../renderer/views/pupil/texts/pupilTexts.ts';

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
const sentencesIn = ({ words, cards }: PupilTexts): readonly string[] => [
  ...Object.values(words),
  ...Object.values(cards).map(card => card.words),
];
const sentences = sentencesIn(ENGLISH);

describe('the words of the pupil view', () => {
  it('can be read by somebody of nine, all together and each for itself', () => {
    expect(gradeOf(sentences)).toBeLessThan(4);
    expect(sentences.filter(text => gradeOf([text]) >= 4.5)).toEqual([]);
    // The measure is no rubber: what the teacher's view says is beyond it.
    expect(gradeOf(['The quantizer offers alternatives according to the chosen tolerance.'])).toBeGreaterThan(
      10,
    );
  });

  it.each(Object.entries(PUPIL_TEXTS))('in %s say one thing in a sentence, and no figure', (_, texts) => {
    for (const text of sentencesIn(texts)) {
      for (const sentence of text.split(/(?<=[.!?]) /))
        expect(sentence.split(' ').length).toBeLessThanOrEqual(11);
      expect(text).toMatch(/[.!?]$/);
      expect(text).not.toMatch(/\d|%/);
    }
  });

  it.each([
    ['en', /[Pp]ress ([A-Z][^.]*)[.]/g],
    ['de', /[Dd]rück (?:zuerst )?auf ([A-Z][^.]*)[.]/g],
  ] as const)('in %s name only buttons that there are', (language, press) => {
    const texts = PUPIL_TEXTS[language];
    const buttons: readonly string[] = [...Object.values(texts.buttons), texts.frame.hear];
    const named = sentencesIn(texts).flatMap(text => [...text.matchAll(press)].map(m => m[1] ?? ''));
    expect(named.length).toBeGreaterThan(3);
    expect(named.filter(name => !buttons.includes(name))).toEqual([]);
    for (const text of buttons) expect(text.split(' ').length).toBeLessThanOrEqual(4);
  });

  it('are all there in every language, each its own, and none stands twice on one screen', () => {
    const leaves = (of: object): readonly string[] =>
      Object.values(of).flatMap((value: unknown) =>
        typeof value === 'string'
          ? [value]
          : typeof value === 'object' && value !== null
            ? leaves(value)
            : [],
      );
    for (const texts of Object.values(PUPIL_TEXTS)) {
      expect(leaves(texts).filter(text => text.trim() === '')).toEqual([]);
      for (const shown of [texts.buttons, texts.words]) {
        const all: readonly string[] = Object.values(shown);
        expect(new Set(all).size).toBe(all.length);
      }
    }
    const [english, german] = [leaves(PUPIL_TEXTS.en), leaves(PUPIL_TEXTS.de)];
    expect(german).toHaveLength(english.length);
    // Nothing was left as it was.
    expect(german.filter((text, i) => text === english[i])).toEqual([]);
  });
});
