import { inScale, type Key, key, type Mode, plainest } from '../foundation/key.ts';
import type { Letter } from '../foundation/pitch.ts';

export interface KeySuggestion {
  readonly key: Key;
  /** 0 to 1: how far it stands out from the next. */
  readonly sure: number;
}

const TONICS: readonly (readonly [Letter, number])[] = [
  ['C', 0],
  ['G', 0],
  ['D', 0],
  ['A', 0],
  ['E', 0],
  ['B', 0],
  ['F', 0],
  ['B', -1],
  ['E', -1],
  ['A', -1],
  ['D', -1],
  ['F', 1],
];
const CANDIDATES: readonly Mode[] = [
  'major pentatonic',
  'major',
  'minor pentatonic',
  'minor',
  'dorian',
  'mixolydian',
];

/**
 * Keys for a set of struck pitches, best first. A key earns its notes' time, loses what it does
 * not hold, and earns a little for its tonic standing first, last and low; the smaller scale wins
 * where both hold everything. Plain counting, told to the teacher as a suggestion only.
 */
export const suggestKeys = (
  notes: readonly { readonly pitch: number; readonly weight: number }[],
): KeySuggestion[] => {
  const total = notes.reduce((so, note) => so + note.weight, 0);
  if (total === 0) return [{ key: key('C'), sure: 0 }];
  const first = notes[0]?.pitch ?? 60;
  const last = notes.at(-1)?.pitch ?? 60;
  const low = Math.min(...notes.map(note => note.pitch));
  const scored = TONICS.flatMap(([step, alter], order) =>
    CANDIDATES.map((mode, modeOrder) => {
      const k = plainest(key(step, mode, alter));
      const tonic = (order: number): boolean => ((order % 12) + 12) % 12 === tonicClass(k);
      const held = notes.filter(note => inScale(k, note.pitch)).reduce((so, note) => so + note.weight, 0);
      const tonicTime = notes.filter(note => tonic(note.pitch)).reduce((so, note) => so + note.weight, 0);
      const small = mode.includes('pentatonic') ? 0.02 : 0;
      const score =
        (held - 3 * (total - held)) / total +
        0.12 * (tonic(last) ? 1 : 0) +
        0.06 * (tonic(first) ? 1 : 0) +
        0.04 * (tonic(low) ? 1 : 0) +
        (0.15 * tonicTime) / total +
        small -
        0.004 * order -
        0.012 * modeOrder;
      return { key: k, score };
    }),
  ).sort((a, b) => b.score - a.score);
  const [best, next] = scored;
  const sure = Math.min(1, Math.max(0, ((best?.score ?? 0) - (next?.score ?? 0)) * 5));
  return scored.slice(0, 5).map((s, i) => ({ key: s.key, sure: i === 0 ? sure : 0 }));
};

const tonicClass = (k: Key): number => {
  const semitones: Readonly<Record<Letter, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
  return (semitones[k.tonic.letter] + k.tonic.alter + 12) % 12;
};
