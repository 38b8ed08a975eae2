// @vitest-environment happy-dom
/** @jsxImportSource preact */
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { AppContext } from '../../renderer/desk/appContext.ts';
import type { AppParts } from '../../renderer/desk/appParts.ts';
import { setCursor, setHeard } from '../../renderer/desk/commands/playing.ts';
import { createDesk } from '../../renderer/desk/desk.ts';
import { BeatCount } from '../../renderer/views/parts/beatCount.tsx';
import { after, four, IDEA, scoreOf } from '../growing/keyed.ts';
import { scoreOfBars } from '../exchange/scoreOfBars.ts';
import { line } from '../score/written.ts';

const root = document.createElement('div');
document.body.append(root);
afterEach(() => {
  render(null, root);
});

describe('the beats that are counted', () => {
  /** What is shown at a place: the beat that is now, how many there are, and the words beside them. */
  const shownAt = (score: Parameters<typeof BeatCount>[0]['score'], at: number, startsAt = 0) => {
    const desk = createDesk();
    desk.run(setHeard, { what: 'rehearsal', startsAt });
    desk.run(setCursor, at);
    void act(() => {
      render(
        <AppContext.Provider value={{ desk } as unknown as AppParts}>
          <BeatCount score={score} class="count" />
        </AppContext.Provider>,
        root,
      );
    });
    return [
      root.querySelector('.now')?.textContent,
      root.querySelectorAll('.projector-beat').length,
      root.querySelector('.projector-bar')?.textContent,
    ];
  };
  const two = scoreOfBars(line('4/4', '1 1 1 1 1 1 1 1'));

  it('are those of the bar, by its number; before the first they count in', () => {
    expect(shownAt(two, 0)).toEqual(['1', 4, 'bar 1']);
    expect(shownAt(two, 0.75)).toEqual(['4', 4, 'bar 1']);
    expect(shownAt(two, 1.3)).toEqual(['2', 4, 'bar 2']);
    expect(shownAt(two, -0.5)).toEqual(['3', 4, 'counting in']);
  });

  it('stay in the last bar while it still rings', () => {
    expect(shownAt(two, 2.1)[2]).toBe('bar 2');
  });

  it('are those of the metre in force, counted in too', () => {
    const plan = after(IDEA, four(), { kind: 'metre', statement: 's1', bar: 3, to: metre(6, 8) });
    const score = scoreOf(IDEA, plan);
    expect(shownAt(score, 1.75)).toEqual(['4', 4, 'bar 2']);
    expect(shownAt(score, 2.4)).toEqual(['2', 2, 'bar 3']);
    expect(shownAt(score, 2.75)).toEqual(['1', 2, 'bar 4']);
    // Counted into the first bar of 6/8: the two beats before it.
    expect(shownAt(score, 1.7, 2)).toEqual(['2', 2, 'counting in']);
  });

  it('are dotted crotchets in 6/8', () => {
    const jig = scoreOfBars(line('6/8', '1/2 1/2 1/2 1/2 1/2 1/2'), {
      metre: metre(6, 8),
      barCount: 1,
      upbeat: fraction(0),
    });
    expect(shownAt(jig, 0.4)).toEqual(['2', 2, 'bar 1']);
  });
});
