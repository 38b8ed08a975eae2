import { type CleanTake, cleanTake } from '../../take/clean.ts';
import type { Take } from '../../take/take.ts';
import { findLag } from './lag.ts';
import { SURE_CHORD } from './constants.ts';

/** Share of the events that come again one lag later. */
const repeated = (take: Take, clean: CleanTake): number => {
  const lag = findLag(
    take,
    clean.events,
    Float64Array.from(clean.events, e => e.at),
  );
  return lag === undefined ? 0 : lag.next.filter(j => j >= 0).length / clean.events.length;
};

/**
 * The take cleaned, with repeats as a witness where it is open whether two close strikes were meant
 * together: uneven players run short notes together once, but hardly in every repeat. Where the idea
 * comes again more faithfully with such strikes apart, they are two notes.
 */
export const cleanByRepeats = (
  take: Take,
  keep: ReadonlySet<number>,
  leading: ReadonlyMap<number, number> = new Map(),
): CleanTake => {
  const usual = cleanTake(take, undefined, keep, leading);
  const apart = cleanTake(take, SURE_CHORD, keep, leading);
  if (apart.events.length === usual.events.length) return usual;
  return repeated(take, apart) > repeated(take, usual) ? apart : usual;
};
