import { z } from '../../foundation/schema.ts';
import { MOST_LETTERS } from '../limits.ts';
import { MOST_PACKED_FILES } from './limits.ts';

export const PORTABLE_FORMAT = 'malletloom-portable';

/** The version of the portable file that this program writes; it opens every version up to it. */
export const PORTABLE_VERSION = 1;

/** The file inside a portable file that says what else is in it. */
export const MANIFEST = 'malletloom.json';

/** What a portable file says of itself. */
export interface PortableAbout {
  /** Whose work it carries, for people: 'Heron', 'Class 8', 'the whole class library'. */
  readonly of: string;
  /** ISO 8601. */
  readonly madeAt: string;
}

/** One file that is carried, as it lies in a class library. */
export interface CarriedFile {
  /** `items/<id>/<revision>.json`. */
  readonly path: string;
  readonly bytes: Uint8Array;
}

export const manifestShape = z.object({
  format: z.literal(PORTABLE_FORMAT),
  version: z.int().min(1),
  of: z.string().max(MOST_LETTERS),
  madeAt: z.string().max(100),
  files: z
    .array(
      z.object({
        path: z.string().max(MOST_LETTERS),
        size: z.int().min(0),
        sha256: z.string().regex(/^[0-9a-f]{64}$/),
      }),
    )
    .max(MOST_PACKED_FILES),
});

export type Manifest = z.infer<typeof manifestShape>;
