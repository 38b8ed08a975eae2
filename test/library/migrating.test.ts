import { describe, expect, it } from 'vitest';
import { MIGRATIONS, migrate, VERSION } from '../../core/library/migrations.ts';
import { damagedFile } from '../../core/library/saved.ts';

describe('migrations', () => {
  const damaged = (detail: string) => damagedFile('x.json', detail);

  it('lead from every older version to this one without a gap', () => {
    expect(MIGRATIONS.map(m => m.from)).toEqual(Array.from({ length: VERSION - 1 }, (_, i) => i + 1));
  });

  it('run one after another, and a missing one is a problem', () => {
    const plus = (from: number) => ({
      from,
      why: 'test',
      migrate: (piece: unknown) => ({ ok: true as const, value: [piece, from] }),
    });
    expect(migrate('p', 1, damaged, [plus(2), plus(1)], 3)).toEqual({ ok: true, value: [['p', 1], 2] });
    expect(migrate('p', 1, damaged, [plus(1)], 3)).toMatchObject({ ok: false });
  });
});
