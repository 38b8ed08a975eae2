import { describe, expect, it } from 'vitest';
import { sourcesOf } from '../imports/sources.ts';
import { functionsOf } from './collect.ts';

// What core exports says what it is for, and half of it shows it.

const functions = sourcesOf('core')
  .filter(({ file }) => !file.endsWith('.d.ts'))
  .flatMap(({ file, text }) => functionsOf(file, text));

describe('what core exports', () => {
  it('says what it is for', () => {
    expect(functions.filter(f => f.doc === '').map(f => `${f.file}: ${f.name}`)).toEqual([]);
  });

  it('has an example for at least half of it', () => {
    const without = functions.filter(f => f.examples.length === 0);
    expect(functions.length).toBeGreaterThan(300);
    expect(without.length, without.map(f => `${f.file}: ${f.name}`).join('\n')).toBeLessThanOrEqual(
      functions.length / 2,
    );
  });
});
