import { fraction, ZERO } from '../../core/foundation/fraction.ts';
import type { Treatment } from '../../core/motif/treatment.ts';
import { INSTRUMENT_IDS } from '../../core/instruments/instruments.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';

/** What each part does with the idea: as it is, up two steps, an octave down, twice as long. */
const CHAINS: readonly (readonly Treatment[])[] = [
  [],
  [{ kind: 'transpose', by: 'scale', steps: 2 }],
  [{ kind: 'octave', octaves: -1 }],
  [{ kind: 'augment', factor: fraction(2) }],
];

export interface Size {
  readonly bars: number;
  /** 1 to 4. */
  readonly parts: number;
}

export const SIZES: readonly Size[] = [1, 4].flatMap(parts => [4, 8, 16, 32].map(bars => ({ bars, parts })));

/** A plan that fills so many bars (an even number) of every part with the one-bar idea. */
export const planOf = ({ bars, parts }: Size): Plan => ({
  ...firstPlan('xylophone', 92),
  parts: INSTRUMENT_IDS.slice(0, parts).map((instrument, i) => ({ id: `p${String(i + 1)}`, instrument })),
  statements: CHAINS.slice(0, parts).map((chain, i) => ({
    id: `s${String(i + 1)}`,
    part: `p${String(i + 1)}`,
    onset: ZERO,
    chain,
    times: chain.some(t => t.kind === 'augment') ? bars / 2 : bars,
  })),
  nextId: parts + 1,
});
