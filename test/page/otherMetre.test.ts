import { describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { metreAt } from '../../core/score/metreAt.ts';
import { columnsOf } from '../../renderer/page/spacing.ts';
import { tempiIn } from '../../renderer/page/marks.ts';
import { underText } from '../../renderer/page/under.ts';
import { after, four, IDEA, scoreOf } from '../growing/keyed.ts';

// Counts by hand, after the table of countOf; quaver = quaver is common practice, no source.
describe('the page of another metre', () => {
  const plan = after(IDEA, four(), { kind: 'metre', statement: 's1', bar: 3, to: metre(6, 8) });
  const score = scoreOf(IDEA, plan);
  const under = (row: 'counts' | 'syllables', bar: number): string =>
    (score.parts[0]?.bars[bar]?.symbols ?? [])
      .map(s => underText(row, metreAt(score, bar), score.parts[0]?.bars[bar] as never, s))
      .filter(text => text !== '')
      .join(' ');

  it('counts and names its rhythm by the metre in force', () => {
    expect(under('counts', 1)).toBe('1 2 3 4');
    expect(under('counts', 2)).toBe('1 li la');
    expect(under('counts', 3)).toBe('1 li la');
    expect(under('syllables', 1)).toBe('ta ta ta ta');
    expect(under('syllables', 2)).toBe('ta ti -a ta');
  });

  it('keeps room for the time signature where it changes, and nowhere else', () => {
    const signs = [0, 1, 2, 3, 4].map(bar => columnsOf(score, bar, []).signs > 0);
    expect(signs).toEqual([false, false, true, false, false]);
  });

  it('says quaver = quaver there, and a metronome mark instead where there is one', () => {
    expect(tempiIn(score, 2, 3)).toEqual([{ at: 2, speed: { same: { base: 8, dots: 0 } } }]);
    const marked = scoreOf(IDEA, { ...plan, tempi: [{ bar: 2, tempo: 72 }] });
    expect(tempiIn(marked, 2, 3)).toEqual([{ at: 2, speed: { beat: fraction(3, 8), tempo: 72 } }]);
    const three = after(IDEA, four(), { kind: 'metre', statement: 's1', bar: 3, to: metre(3, 4) });
    expect(tempiIn(scoreOf(IDEA, three), 2, 3)).toEqual([]);
  });
});
