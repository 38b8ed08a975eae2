import { equal } from '../foundation/fraction.ts';
import type { Reading, ReadNote } from '../reading/model/reading.ts';
import { countWords } from './positionWords.ts';

/**
 * What sets each of several readings apart, in words that no two of them share: where reasons are the same the first
 * note that stands otherwise is told, and again until all differ. Readings that write every note at the same place,
 * and differ in its length alone, may keep the same words.
 * @example
 * toldApart([]) // => []
 */
export const toldApart = (readings: readonly Reading[]): readonly string[] => {
  const words = readings.map(reading => reading.reason);
  const order = (reading: Reading): readonly ReadNote[] =>
    [...reading.notes].sort((a, b) => a.strike - b.strike);
  const notes = readings.map(order);
  const most = Math.max(0, ...notes.map(own => own.length));
  for (let k = 0; k < most; k++) {
    const alike = new Map<string, number[]>();
    words.forEach((said, i) => {
      alike.set(said, [...(alike.get(said) ?? []), i]);
    });
    if (alike.size === readings.length) break;
    for (const [said, group] of alike) {
      const there = notes[group[0] ?? 0]?.[k];
      if (group.every(i => isAt(notes[i]?.[k], there))) continue;
      for (const i of group) {
        const reading = readings[i];
        const note = notes[i]?.[k];
        if (reading !== undefined && note !== undefined)
          words[i] = `${said}, note ${String(k + 1)} at ${countWords(reading.metre, note.onset)}`;
      }
    }
  }
  return words;
};

const isAt = (one: ReadNote | undefined, other: ReadNote | undefined): boolean =>
  one === undefined || other === undefined ? one === other : equal(one.onset, other.onset);
