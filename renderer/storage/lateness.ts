import { z } from '../../core/foundation/schema.ts';

const NAME = 'malletloom.lateness';
const shape = z.record(z.string(), z.number().min(-250).max(250));

/** How late each device comes, in ms, by the device's name; what is not stored or damaged is empty. */
export const storedLateness = (): Readonly<Record<string, number>> => {
  try {
    const known = shape.safeParse(JSON.parse(localStorage.getItem(NAME) ?? '{}'));
    return known.success ? known.data : {};
  } catch {
    return {};
  }
};

/** Remembers it on this machine; a browser that stores nothing only forgets it at the end. */
export const storeLateness = (all: Readonly<Record<string, number>>): void => {
  try {
    localStorage.setItem(NAME, JSON.stringify(all));
  } catch {
    // Private windows may refuse; the value holds until the window is closed.
  }
};
