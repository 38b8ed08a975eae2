import type { InstrumentId } from '../../../core/instruments/instruments.ts';
import { MALLET_NAMES, type MalletId, MALLETS_FOR } from '../../../core/instruments/mallets.ts';

/** The mallets an instrument's bars bear, for a choice before the word 'mallets'; the usual one first. */
export const malletChoices = (
  instrument: InstrumentId,
): readonly { readonly value: MalletId; readonly text: string }[] =>
  MALLETS_FOR[instrument].map((value, i) => ({
    value,
    text: i === 0 ? `the usual ${MALLET_NAMES[value]}` : MALLET_NAMES[value],
  }));
