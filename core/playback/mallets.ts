import type { Seconds } from '../foundation/units.ts';
import type { MalletId } from '../instruments/mallets.ts';

/** What of a mallet is heard. */
export interface Mallet {
  /** How long it stays on the bar at velocity 80. */
  readonly contact: Seconds;
  /**
   * Contact goes as speed to the power of minus this. A head whose force grows as its dent to the power p has
   * (p - 1) / (p + 1): 0.2 for a ball after Hertz (p = 1.5), more where it grows stiffer, as wound yarn does.
   */
  readonly stiffens: number;
  /**
   * Contact goes as frequency over middle C's to the power of minus this: a heavy head is thrown off a light bar
   * sooner. Our choice; a hard, light head shows nothing of it (the recorded xylophone).
   */
  readonly thrown: number;
  /** Noise of the blow beside the modes, on wood, at velocity 80 (our choice). */
  readonly knock: number;
}

/** Contact from memory: soft yarn 3 to 5 ms, rubber 1 to 2, hard plastic 0.3 to 0.6, brass 0.15 to 0.3. */
export const MALLETS: Readonly<Record<MalletId, Mallet>> = {
  'soft-yarn': { contact: 0.0035, stiffens: 0.25, thrown: 0.5, knock: 0.12 },
  'medium-yarn': { contact: 0.0018, stiffens: 0.25, thrown: 0.5, knock: 0.16 },
  rubber: { contact: 0.0012, stiffens: 0.22, thrown: 0.3, knock: 0.2 },
  'hard-plastic': { contact: 0.00035, stiffens: 0.2, thrown: 0, knock: 0.3 },
  brass: { contact: 0.0002, stiffens: 0.2, thrown: 0, knock: 0.3 },
};
