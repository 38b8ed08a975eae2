import type { Velocity } from '../foundation/units.ts';

/** How loud a passage is, as written under the stave. */
export type Dynamic = 'pp' | 'p' | 'mp' | 'mf' | 'f' | 'ff';

/** Sixteen steps of MIDI velocity from one mark to the next (common practice, no source). */
export const VELOCITY_OF: Readonly<Record<Dynamic, Velocity>> = {
  pp: 33,
  p: 49,
  mp: 64,
  mf: 80,
  f: 96,
  ff: 112,
};

/** Said in words beside the mark: the Italian names (common practice, no source). */
export const DYNAMIC_NAME: Readonly<Record<Dynamic, string>> = {
  pp: 'pianissimo',
  p: 'piano',
  mp: 'mezzo-piano',
  mf: 'mezzo-forte',
  f: 'forte',
  ff: 'fortissimo',
};

/** What is done to one note. */
export type Articulation = 'accent' | 'staccato' | 'tenuto';

/** Louder (crescendo) or softer (diminuendo) by and by, between two opening or closing lines. */
export type Hairpin = 'crescendo' | 'diminuendo';
