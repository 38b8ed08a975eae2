import { expect, it } from 'vitest';
import { failDisks, fillDisk } from './disks.ts';

// The short form of `npm run torture`: a disk that fails takes nothing with it, and says what it is.
const NOTHING_LOST = { lost: [], damaged: [], leftAfterTidying: 0, isWell: true };

it('a disk that is full, read-only, erring or gone loses no acknowledged save', async () => {
  const report = await failDisks(70, 7);
  expect(report).toMatchObject(NOTHING_LOST);
  expect(report.acknowledged).toBeGreaterThan(20);
  // Every way to fail is told as what it is, and as nothing else.
  expect(Object.keys(report.refused).sort()).toEqual(['disk-full', 'folder-gone', 'folder-refused']);
}, 120_000);

it('a file system that is really full refuses in words, and takes more once there is room', async context => {
  const report = await fillDisk(60);
  if (report === undefined) {
    context.skip('no file system may be mounted here');
    return;
  }
  expect(report).toMatchObject(NOTHING_LOST);
  expect(report.acknowledged).toBeGreaterThan(5);
  expect(Object.keys(report.refused)).toEqual(['disk-full']);
}, 120_000);
