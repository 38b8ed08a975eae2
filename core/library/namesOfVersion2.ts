import { ok, type Result } from '../foundation/result.ts';

type Stored = Readonly<Record<string, unknown>>;

const isRecord = (value: unknown): value is Stored =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** A record with some of its fields under other names; anything else as it is. */
const renamed = (value: unknown, names: Readonly<Record<string, string>>): unknown =>
  isRecord(value)
    ? Object.fromEntries(Object.entries(value).map(([name, field]) => [names[name] ?? name, field]))
    : value;

/** A record with one of its fields changed, where it has such a field. */
const inside = (value: unknown, field: string, change: (inner: unknown) => unknown): unknown =>
  isRecord(value) && field in value ? { ...value, [field]: change(value[field]) } : value;

const inEach = (value: unknown, change: (inner: unknown) => unknown): unknown =>
  Array.isArray(value) ? value.map(change) : value;

const metre = (value: unknown): unknown => renamed(value, { beats: 'upper', unit: 'lower' });

/**
 * A piece as version 1 stored it, under the names of version 2. What has another shape than version 1
 * gave it is left as it is, so that the decoder after it can say what is wrong.
 * @example
 * toVersion2({ reading: { metre: { beats: 6, unit: 8 } } }) // => { ok: true, value: { reading: { metre: { upper: 6, lower: 8 } } } }
 */
export const toVersion2 = (piece: unknown): Result<unknown> => {
  const withMetres = ['hints', 'reading'].reduce(
    (so, field) => inside(so, field, inner => inside(inner, 'metre', metre)),
    inside(piece, 'take', take => inside(take, 'click', click => inside(click, 'metre', metre))),
  );
  const withKey = inside(withMetres, 'key', key =>
    inside(key, 'tonic', tonic => renamed(tonic, { step: 'letter' })),
  );
  return ok(
    inside(withKey, 'plan', plan =>
      inside(plan, 'statements', all => inEach(all, statement => renamed(statement, { at: 'onset' }))),
    ),
  );
};
