import { type Key, keyName, writableTonics } from '../../../core/foundation/key.ts';
import { movedKey } from '../../../core/foundation/movedKey.ts';
import type { BarNumber } from '../../../core/foundation/units.ts';
import type { OtherKey } from '../../../core/growing/changeKey.ts';
import { lastBar } from '../../../core/growing/sections.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import { semitonesApart } from '../../../core/plan/intervals.ts';
import { FARTHEST_KEY, type KeyChange } from '../../../core/plan/keys.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import type { CardChoice } from './cardChoice.ts';

/** What may change with a key, as choices in words. */
interface KeyOption {
  readonly value: string;
  readonly text: string;
  readonly to: OtherKey;
}

/** How a choice of key is told from others. */
export const keyValue = (to: OtherKey): string =>
  'signature' in to ? `written ${keyName(to.signature)}` : `moved ${String(to.moved)}`;

/** Everything up or down by an interval, up ones first and home among them, then the signatures alone. */
export const keyOptions = (first: Key): readonly KeyOption[] => {
  const up = Array.from({ length: FARTHEST_KEY }, (_, i) => i + 1);
  const option = (to: OtherKey, text: string): KeyOption => ({ value: keyValue(to), text, to });
  return [
    ...up.map(k => option({ moved: k }, `${semitonesApart(k)}, in ${keyName(movedKey(first, k))}`)),
    ...up.map(k => option({ moved: -k }, `${semitonesApart(-k)}, in ${keyName(movedKey(first, -k))}`)),
    option({ moved: 0 }, `as at the beginning, in ${keyName(first)}`),
    ...writableTonics(first.mode).map(tonic => {
      const signature: Key = { ...first, tonic };
      return option({ signature }, `as before, but written in ${keyName(signature)}`);
    }),
  ];
};

/** The key a page is written in from a change on. */
export const keyWritten = (first: Key, change: KeyChange): Key =>
  'signature' in change ? change.signature : movedKey(first, change.moved);

/** A change of key as it is told where bars are marked. */
export const keyChangeWords = (first: Key, change: KeyChange): string =>
  'signature' in change
    ? `written in ${keyName(change.signature)}`
    : `${keyName(movedKey(first, change.moved))}, ${change.moved === 0 ? 'as at the beginning' : semitonesApart(change.moved)}`;

/**
 * The bar (from 1) from which another key or metre is tried: as chosen; else the last letter's after the first bar,
 * else the last one.
 */
export const changeBarOf = (chosen: BarNumber | undefined, motif: Motif, plan: Plan): BarNumber => {
  const last = lastBar(motif, plan);
  const lettered = plan.letters.map(l => l.bar + 1).filter(bar => bar > 1 && bar <= last);
  return chosen ?? lettered.at(-1) ?? last;
};

/** The bar (from 1) from which another key is tried. */
export const keyBarOf = (choice: CardChoice, motif: Motif, plan: Plan): BarNumber =>
  changeBarOf(choice.keyBar, motif, plan);

/** The bars after the first one as choices, those with a letter by it. */
export const laterBars = (
  motif: Motif,
  plan: Plan,
): readonly { readonly value: string; readonly text: string }[] =>
  Array.from({ length: Math.max(1, lastBar(motif, plan) - 1) }, (_, i) => {
    const bar = String(i + 2);
    const letter = plan.letters.find(l => l.bar === i + 1)?.letter;
    return { value: bar, text: letter === undefined ? `bar ${bar}` : `letter ${letter}, bar ${bar}` };
  });
