import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../core/library/canonicalJson.ts';

describe('canonical JSON', () => {
  it('says the same data the same way, in ASCII', () => {
    expect(canonicalJson({ b: 'é♭', a: [1, { d: 0, c: -0 }] })).toBe(
      '{"a":[1,{"c":0,"d":0}],"b":"\\u00e9\\u266d"}',
    );
  });

  it('law: says what JSON.stringify says (ECMA-262), but for the order of the fields', () => {
    const anything = fc.oneof(
      fc.jsonValue(),
      fc.anything({ values: [fc.constantFrom(null, undefined, NaN, Infinity, -0, 1.5, 'é', false)] }),
    );
    fc.assert(
      fc.property(fc.array(anything), value => {
        expect(JSON.parse(canonicalJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
      }),
    );
  });
});
