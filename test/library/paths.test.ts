import { describe, expect, it } from 'vitest';
import {
  isDropped,
  isLeftover,
  isListed,
  isRead,
  isWritten,
  LEFTOVER_AGE,
} from '../../core/library/paths.ts';

// Which paths of a folder belong to a class library, and which files nobody will miss.

describe('paths of a class library', () => {
  it.each([
    ['items', true],
    ['items/piece-1', true],
    ['items/piece-1 (1)', true],
    [`items/${'a'.repeat(200)}`, true],
    [`items/${'a'.repeat(201)}`, false],
    ['', false],
    ['item', false],
    ['items/', false],
    ['items/.hidden', false],
    ['items/a:b', false],
    ['items/a\\b', false],
    ['items/a\0', false],
    ['items/a/b', false],
    ['others/a', false],
  ])('"%s" is listed: %s', (path, yes) => {
    expect(isListed(path)).toBe(yes);
  });

  it.each([
    ['items/a/r1-draft.json', true],
    ['items/a/r1.json', false],
    ['items/a/r1-draft (1).json', false],
    ['items/a/../b/r1-draft.json', false],
    ['../items/a/r1-draft.json', false],
    ['items/r1-draft.json', false],
    ['others/a/r1-draft.json', false],
    ['items/a/r1-draft', false],
  ])('"%s" may be dropped: %s', (path, yes) => {
    expect(isDropped(path)).toBe(yes);
  });

  it.each([
    ['items/a/r1.json', true],
    ['items/a/r1 (conflicted copy).json', true],
    ['items/a (1)/r1.json', true],
    ['items/a/.r1.json', false],
    ['items/.a/r1.json', false],
    ['items/a/r1.json.part', false],
    ['items/a/b/r1.json', false],
    ['items/a/r1.json/more', false],
    ['items/r1.json', false],
    ['others/a/r1.json', false],
    ['items', false],
  ])('"%s" is read: %s', (path, yes) => {
    expect(isRead(path)).toBe(yes);
  });

  it.each([
    ['items/a/r1.json', true],
    [`items/${'a'.repeat(80)}/${'r'.repeat(80)}.json`, true],
    [`items/${'a'.repeat(81)}/r1.json`, false],
    [`items/a/${'r'.repeat(81)}.json`, false],
    ['items/a/r1 (1).json', false],
    ['items/A/r1.json', false],
    ['items/a/.json', false],
    ['more/items/a/r1.json', false],
    ['items/a/r1.json/more', false],
    ['items/a/r1xjson', false],
  ])('"%s" is written: %s', (path, yes) => {
    expect(isWritten(path)).toBe(yes);
  });

  it.each([
    ['.r1.json.part', 10],
    ['.r1.json.4711.part', 10],
    ['.r1.json.part', 0],
    ['r1.json', 0],
  ])('"%s" of %i bytes is left over from a day on, not before', (file, size) => {
    expect(isLeftover(file, size, LEFTOVER_AGE)).toBe(true);
    expect(isLeftover(file, size, LEFTOVER_AGE - 1)).toBe(false);
  });

  it.each([
    ['r1.json', 1],
    ['notes.txt', 0],
    ['r1.json.part', 10],
    ['.part', 0],
    ['.r1.json.x.part', 10],
    ['.r1.txt.part', 10],
    ['x.r1.json.part.txt', 10],
    ['.r1.json.part.txt', 10],
  ])('"%s" of %i bytes is never left over', (file, size) => {
    expect(isLeftover(file, size, 1000 * LEFTOVER_AGE)).toBe(false);
  });
});
