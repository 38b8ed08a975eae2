import { expect, it } from 'vitest';
import { killHosts } from './hosts.ts';

// The short form of `npm run torture`: a host killed in the middle of a save takes nothing with it.
it('no acknowledged save is lost, none damaged, nothing left over', async () => {
  const report = await killHosts(12, 3);
  expect(report.kills).toBe(12);
  expect(report.acknowledged).toBeGreaterThan(0);
  expect({ lost: report.lost, damaged: report.damaged, left: report.leftAfterTidying }).toEqual({
    lost: [],
    damaged: [],
    left: 0,
  });
}, 120_000);
