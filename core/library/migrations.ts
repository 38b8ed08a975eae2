import type { Problem, Result } from '../foundation/result.ts';
import { toVersion2 } from './namesOfVersion2.ts';

/** Turns a piece as one version stored it into a piece as the next one does, and says why it changed. */
export interface Migration {
  /** The version it starts from; migrations are numbered without gaps. */
  readonly from: number;
  readonly why: string;
  readonly migrate: (piece: unknown) => Result<unknown>;
}

/** The version this program writes. */
export const VERSION = 20;

/**
 * In order. A change of the stored shape adds one here, raises VERSION, and leaves a stored file of
 * the old version in test/migrations that must open forever.
 */
export const MIGRATIONS: readonly Migration[] = [
  {
    from: 1,
    why: "The field's words: a metre has an upper and a lower figure, a tonic a letter, a statement an onset.",
    migrate: toVersion2,
  },
  {
    from: 2,
    why: 'More can be said (ideas without a gap after them, notes respelled); what version 2 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 3,
    why: 'More can be said (marks of statements, variations); what version 3 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 4,
    why: 'More can be said (what was played to the piece and kept); what version 4 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 5,
    why: 'More can be said (rolls); what version 5 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 6,
    why: 'More can be said (another key from a letter on); what version 6 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 7,
    why: 'More can be said (what pupil and teacher said of the piece); what version 7 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 8,
    why: 'More can be said (marks on single notes); what version 8 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 9,
    why: 'More can be said (mallets); what version 9 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 10,
    why: 'More can be said (rolls that were heard, and by hand); what version 10 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 11,
    why: 'More can be said (drags and ruffs); what version 11 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 12,
    why: 'More can be said (what else a strike may have been); what version 12 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 13,
    why: 'More can be said (another metre from a letter on); what version 13 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 14,
    why: 'More can be said (glissandi); what version 14 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 15,
    why: 'More can be said (the pedal of a vibraphone); what version 15 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 16,
    why: 'More can be said (ideas whose last bar is closed by their upbeat); what version 16 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 17,
    why: 'More can be said (endings shorter by the upbeat); what version 17 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 18,
    why: 'More can be said (strikes that may be somebody else’s); what version 18 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
  {
    from: 19,
    why: 'More can be said (corrections that the ear made); what version 19 says stays as it is.',
    migrate: piece => ({ ok: true, value: piece }),
  },
];

/** Brings a stored piece up to this version, step by step. */
export const migrate = (
  piece: unknown,
  version: number,
  damaged: (detail: string) => { readonly ok: false; readonly problem: Problem },
  steps: readonly Migration[] = MIGRATIONS,
  target = VERSION,
): Result<unknown> => {
  let now = piece;
  for (let at = version; at < target; at++) {
    const step = steps.find(migration => migration.from === at);
    if (step === undefined) return damaged(`no migration from version ${String(at)}`);
    const next = step.migrate(now);
    if (!next.ok) return next;
    now = next.value;
  }
  return { ok: true, value: now };
};
