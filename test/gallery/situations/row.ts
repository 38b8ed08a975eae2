import { COMMON, type Situation } from '../situation.ts';

/** A situation of common practice, in 4/4 where nothing else is said. */
export const row = (
  id: string,
  name: string,
  notes: string,
  written: string,
  rule: string,
  more: Partial<Situation> = {},
): Situation => ({ id, name, metre: '4/4', notes, written, rule, source: COMMON, ...more });
