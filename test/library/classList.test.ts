import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  classShape,
  enteredNames,
  enteredWords,
  mergedClass,
  MOST_NAME_LETTERS,
  MOST_PUPILS,
  pupilAfter,
  sameName,
  withGroup,
  withoutPupil,
  withPupils,
} from '../../core/library/classList.ts';
import { makeCodeNames, WORD_COUNT } from '../../core/library/codeNames.ts';

const LIST = { id: 'class-1', name: '8 Kestrel', pupils: ['Badger', 'Heron', 'Otter'], groups: [] };

describe('code names typed or pasted', () => {
  it('stand one a line or between commas; nothing is dropped without a word', () => {
    const entered = enteredNames('Otter, Heron\r\n\r\nBadger;\tLynx\n otter \n\n');
    expect(entered.names).toEqual(['Otter', 'Heron', 'Badger', 'Lynx']);
    expect([entered.twice, entered.blank]).toEqual([['otter'], 2]);
    expect(enteredWords(entered)).toBe(
      '4 code names. Twice, so entered once: otter. 2 empty lines were left out.',
    );
    expect(enteredWords(enteredNames('Otter'))).toBe('One code name.');
  });

  it('are cut to what fits, and told; those already there come once', () => {
    const long = 'x'.repeat(60);
    const entered = enteredNames(`${long}\nHERON`, ['Heron']);
    expect([entered.names[0]?.length, entered.cut.length, entered.twice]).toEqual([40, 1, ['HERON']]);
  });

  it('beyond the most a class may have are told by name', () => {
    const many = Array.from({ length: MOST_PUPILS + 2 }, (_, i) => `P${String(i)}`).join('\n');
    const entered = enteredNames(many);
    expect([entered.names.length, entered.over]).toEqual([MOST_PUPILS, ['P200', 'P201']]);
    expect(enteredWords(entered)).toContain('Left out, because a class holds 200 at the most: P200, P201.');
  });

  it('whatever is pasted: every name can be stored, and every piece of text is accounted for', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: 'grapheme', maxLength: 60 }), { maxLength: 30 }), lines => {
        const text = lines.join('\n');
        const { names, twice, over, blank } = enteredNames(text);
        expect(classShape.safeParse({ ...LIST, pupils: names }).success).toBe(true);
        expect(names.every(name => name.length <= MOST_NAME_LETTERS)).toBe(true);
        const body = text.replace(/[\s,;]+$/u, '');
        const places = body === '' ? 0 : body.split(/\r\n|[\n\r,;\t\u2028\u2029]/).length;
        expect(names.length + twice.length + over.length + blank).toBe(places);
      }),
    );
  });
});

describe('code names made', () => {
  it('are distinct, the same from the same seed, others from another, none taken', () => {
    fc.assert(
      fc.property(fc.nat(300), fc.integer(), (count, seed) => {
        const made = makeCodeNames(count, seed, ['Otter']);
        expect(made).toHaveLength(count);
        expect(new Set([...made, 'Otter'].map(sameName)).size).toBe(count + 1);
        expect(makeCodeNames(count, seed, ['Otter'])).toEqual(made);
      }),
    );
    expect(makeCodeNames(30, 1, [])).not.toEqual(makeCodeNames(30, 2, []));
    expect(WORD_COUNT).toBeGreaterThan(150);
    expect(new Set(makeCodeNames(WORD_COUNT, 7, [])).size).toBe(WORD_COUNT);
  });

  it('every word comes early for some seed: the order is no fixed one', () => {
    const first = new Set(Array.from({ length: 3000 }, (_, seed) => makeCodeNames(1, seed * 7919, [])[0]));
    expect(first.size).toBeGreaterThan(WORD_COUNT * 0.9);
  });
});

describe('a class', () => {
  it('goes round: each pupil once, then from the beginning', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.string({ minLength: 1 }), { minLength: 1, maxLength: 30 }), pupils => {
        const list = { ...LIST, pupils };
        const seen: string[] = [];
        let now: string | undefined;
        for (const _ of pupils) {
          now = pupilAfter(list, now);
          seen.push(now ?? '');
        }
        expect(seen).toEqual(pupils);
        expect(pupilAfter(list, now)).toBe(pupils[0]);
      }),
    );
    expect(pupilAfter({ ...LIST, pupils: [] }, undefined)).toBeUndefined();
  });

  it('has groups of two and more, in the order of the list; a group is followed by the next', () => {
    const two = withGroup(LIST, ['Otter', 'Badger']);
    if (!two.ok) throw new Error(two.problem.what);
    expect(two.value.groups).toEqual([{ name: 'Badger and Otter', pupils: ['Badger', 'Otter'] }]);
    expect(withGroup(LIST, ['Otter'])).toMatchObject({ ok: false });
    expect(withGroup(two.value, ['Badger', 'Otter'])).toMatchObject({
      ok: false,
      problem: { what: expect.stringContaining('“Badger and Otter”') as unknown },
    });
    const three = withGroup(two.value, ['Heron', 'Otter', 'Badger']);
    if (!three.ok) throw new Error(three.problem.what);
    expect(pupilAfter(three.value, 'Badger and Otter')).toBe('Badger, Heron and Otter');
    expect(pupilAfter(three.value, 'Badger')).toBe('Heron');
    const gone = withoutPupil(three.value, 'Badger');
    expect([gone.pupils, gone.groups.map(group => group.pupils)]).toEqual([
      ['Heron', 'Otter'],
      [['Otter'], ['Heron', 'Otter']],
    ]);
    expect(classShape.safeParse(gone).success).toBe(true);
  });

  it('takes more pupils, and keeps all that any machine has', () => {
    expect(withPupils(LIST, ['Lynx', 'heron']).pupils).toEqual(['Badger', 'Heron', 'Otter', 'Lynx']);
    const group = { name: 'Badger and Otter', pupils: ['Badger', 'Otter'] };
    const merged = mergedClass(LIST, [{ ...LIST, pupils: ['Vole', 'OTTER'], groups: [group] }]);
    expect([merged.pupils, merged.groups]).toEqual([['Badger', 'Heron', 'Otter', 'Vole'], [group]]);
  });

  it('is stored only whole: no empty name, none twice, none without end', () => {
    const bad = [
      { ...LIST, pupils: ['Otter', 'ötter'] },
      { ...LIST, pupils: [''] },
      { ...LIST, pupils: ['x'.repeat(41)] },
      { ...LIST, id: 'piece-1' },
      { ...LIST, name: '' },
      { ...LIST, realNames: [] },
      { ...LIST, groups: [{ name: 'A', pupils: [] }] },
      { ...LIST, pupils: Array.from({ length: 201 }, (_, i) => String(i)) },
    ];
    expect(classShape.safeParse(LIST).success).toBe(true);
    expect(bad.map(list => classShape.safeParse(list).success)).toEqual(bad.map(() => false));
  });
});
