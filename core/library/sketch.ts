import { z } from '../foundation/schema.ts';
import { factsOf, type PieceFacts } from './facts.ts';
import { MOST_TOLD } from './outline.ts';
import { isWritten } from './paths.ts';
import { safeName } from './pieceShape.ts';
import type { Saved, Stamp } from './revision.ts';

/** A revision of a piece without its notes: all that the register shows, a hundredth of the size. */
export interface Sketch extends Stamp {
  readonly draft?: true;
  readonly facts: PieceFacts;
}

/** A revision as the register knows it. */
export const sketchOf = ({ id, revision, parents, savedAt, draft, away, piece }: Saved): Sketch => ({
  id,
  revision,
  parents,
  savedAt,
  ...(draft === undefined ? {} : { draft }),
  ...(away === undefined ? {} : { away }),
  facts: factsOf(piece),
});

/**
 * Where a machine remembers what it sketched, so that a register of thousands opens at once. It is no part of the
 * class library: lost or damaged, it is made anew from the files.
 */
export interface SketchStore {
  /** What was written last for the library in this place; undefined where there is nothing. */
  readonly read: (where: string) => Promise<unknown>;
  readonly write: (where: string, stored: object) => Promise<void>;
}

/** A machine that remembers nothing. */
export const NO_SKETCHES: SketchStore = {
  read: () => Promise.resolve(undefined),
  write: () => Promise.resolve(),
};

/** Told anew when the facts of a piece come to be told otherwise. */
const SKETCHES_VERSION = 5;

const facts = z.object({
  title: z.string(),
  codeName: z.string(),
  className: z.string(),
  grown: z.boolean(),
  treatments: z.array(z.string()),
  hasFeedback: z.boolean(),
  playings: z.int().min(0),
  metres: z.array(z.string()),
  key: z.string(),
  // What is remembered elsewhere may be anything: longer tunes than are told would hold the register up.
  outline: z
    .object({ contour: z.string().max(MOST_TOLD), gaps: z.array(z.number().positive()).max(MOST_TOLD) })
    .refine(({ contour, gaps }) => contour.length === gaps.length, 'a step without its gap'),
});

const sketch = z.object({
  id: safeName,
  revision: safeName,
  parents: z.array(safeName),
  savedAt: z.string(),
  draft: z.literal(true).exactOptional(),
  away: z.literal(true).exactOptional(),
  facts,
});

const stored = z.object({
  version: z.literal(SKETCHES_VERSION),
  sketches: z.array(z.tuple([z.string().refine(isWritten), sketch])),
});

/** What is remembered of these files. Only files under names of ours are: they never change once they are whole. */
export const toStored = (sketches: ReadonlyMap<string, Sketch>): object => ({
  version: SKETCHES_VERSION,
  sketches: [...sketches].filter(([path]) => isWritten(path)),
});

/** What was remembered, by path; nothing where it cannot be used. @param value as it was read, from anywhere */
export const fromStored = (value: unknown): ReadonlyMap<string, Sketch> => {
  const read = stored.safeParse(value);
  return new Map(read.success ? read.data.sketches : []);
};
