import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { add, fraction, subtract } from '../../core/foundation/fraction.ts';
import { clearBetween, firstFree, splitAt } from '../../core/growing/split.ts';
import { statementEnd } from '../../core/plan/statement.ts';
import { asText, IDEA, inside, plans, sounds } from '../plan/motifs.ts';

const eighths = fc.integer({ min: 1, max: 40 }).map(n => fraction(n, 8));

describe('laws of dividing', () => {
  it('a plan divided at any place sounds the same', () => {
    fc.assert(
      fc.property(plans, eighths, (plan, at) => {
        const divided = splitAt(IDEA, plan, at, ['p1', 'p2']);
        expect(asText(sounds(IDEA, divided))).toEqual(asText(sounds(IDEA, plan)));
        expect(new Set(divided.statements.map(s => s.id)).size).toBe(divided.statements.length);
      }),
    );
  });
  it('clearing a stretch leaves nothing that begins in it and everything outside', () => {
    fc.assert(
      fc.property(plans, eighths, eighths, (plan, from, length) => {
        const to = add(from, length);
        const kept = sounds(IDEA, plan).filter(n => n.part === 'p2' || !inside(n.at, from, to));
        expect(asText(sounds(IDEA, clearBetween(IDEA, plan, 'p1', from, to)))).toEqual(asText(kept));
      }),
    );
  });
  it('the first free place is free, and not before the one asked for', () => {
    fc.assert(
      fc.property(plans, eighths, eighths, (plan, at, length) => {
        const free = firstFree(IDEA, plan, 'p1', at, length);
        const end = add(free, length);
        expect(subtract(free, at).n).toBeGreaterThanOrEqual(0);
        const standing = plan.statements.filter(s => s.part === 'p1');
        for (const s of standing) {
          const clear = subtract(s.onset, end).n >= 0 || subtract(free, statementEnd(IDEA, s)).n >= 0;
          expect(clear).toBe(true);
        }
      }),
    );
  });
});
