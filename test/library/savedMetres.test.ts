import { describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { type Metre, metre } from '../../core/foundation/metre.ts';
import { copySection, lastBar } from '../../core/growing/sections.ts';
import { motifOf } from '../../core/piece/piece.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { pieceOfVersion13, pieceOfVersion14 } from './pieces.ts';
import { openedFile, savedAndOpened, stamped } from './savedAndOpened.ts';

describe('metres from a bar on, stored', () => {
  it('opens piece-v13.json, which had one metre', async () => {
    expect(await openedFile(13)).toStrictEqual(pieceOfVersion13());
  });

  it('come back as they were, with pauses and the metre of an accompaniment', async () => {
    const piece = pieceOfVersion14();
    expect(piece.plan?.metres).toHaveLength(2);
    expect(await savedAndOpened(piece)).toStrictEqual({ ok: true, value: stamped(piece) });
  });

  it('refuses what is no metre, no bar and no pause', async () => {
    const piece = pieceOfVersion14();
    const { plan } = piece;
    if (plan === undefined) throw new Error('no plan');
    const odd = { upper: 1e9, lower: 4 };
    const changes: readonly unknown[] = [
      { metres: [{ bar: 0, metre: metre(3, 4) }] },
      { metres: [{ bar: 2 ** 53, metre: metre(3, 4) }] },
      { metres: [{ bar: 2, metre: odd }] },
      { metres: [{ bar: 2, metre: { upper: 3, lower: 7 } }] },
      { metres: [{ bar: 2, metre: { upper: 5, lower: 8, groups: [2, 2] } as Metre }] },
      { metres: Array.from({ length: 401 }, (_, i) => ({ bar: i + 1, metre: metre(3 + (i % 2), 4) })) },
      { pauses: [{ bar: 2, length: fraction(-1, 4) }] },
      { pauses: [{ bar: 2, length: { n: 1e9, d: 1 } }] },
      { pauses: [{ bar: 2, length: { n: NaN, d: 1 } }] },
      { pauses: [{ bar: 2, length: fraction(24) }] },
      // Between barlines lie sixteenths; the next change of metre would make figures of this that cannot be stored.
      { pauses: [{ bar: 2, length: fraction(1, 2 ** 26 - 1) }] },
    ];
    for (const change of changes)
      expect(await savedAndOpened({ ...piece, plan: { ...plan, ...(change as object) } })).toMatchObject({
        ok: false,
      });
  });

  it('takes a section of two metres that was copied until the piece has no room for more', async () => {
    const piece = pieceOfVersion14();
    const motif = motifOf(piece);
    const base = firstPlan(piece.instrument, 90);
    const [first] = base.statements;
    if (first === undefined) throw new Error('no statement');
    const plan = { ...base, statements: [{ ...first, times: 2 }], metres: [{ bar: 1, metre: metre(2, 4) }] };
    const to = lastBar(motif, plan);
    const copy = { from: 1, to, toBar: to + 1, copies: Math.floor((398 - to) / to), steps: 0, letter: true };
    const copied = copySection(motif, plan, copy);
    if (!copied.ok) throw new Error(copied.problem.what);
    expect(copied.value.plan.metres?.length).toBeGreaterThan(100);
    const grown = { ...piece, plan: copied.value.plan };
    expect(await savedAndOpened(grown)).toStrictEqual({ ok: true, value: stamped(grown) });
  });

  it('a metre of a semiquaver does not make more bars than can be drawn', async () => {
    const piece = pieceOfVersion14();
    const { plan } = piece;
    if (plan === undefined) throw new Error('no plan');
    const [first] = plan.statements;
    if (first === undefined) throw new Error('no statement');
    const far = {
      ...plan,
      metres: [{ bar: 1, metre: { upper: 1, lower: 16 as const } }],
      statements: [{ ...first, onset: fraction(2000) }],
    };
    expect(await savedAndOpened({ ...piece, plan: far })).toMatchObject({ ok: false });
  });
});
