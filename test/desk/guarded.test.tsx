// @vitest-environment happy-dom
/** @jsxImportSource preact */
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, expect, it, vi } from 'vitest';
import { AppContext } from '../../renderer/desk/appContext.ts';
import type { AppParts } from '../../renderer/desk/appParts.ts';
import { undoStep } from '../../renderer/desk/commands/step.ts';
import { Guarded } from '../../renderer/views/parts/guarded.tsx';

const root = document.createElement('div');
document.body.append(root);
afterEach(() => {
  render(null, root);
});

it('a view that cannot be drawn says so, its neighbours stay, and undo or another try brings it back', () => {
  let breaks = true;
  const View = () => {
    if (breaks) throw new Error('no such bar');
    return <p>the page</p>;
  };
  const afterwards = vi.fn();
  const app = { asking: { afterwards } } as unknown as AppParts;
  const draw = (): void => {
    render(
      <AppContext.Provider value={app}>
        <nav>places</nav>
        <Guarded name="write">
          <View />
        </Guarded>
      </AppContext.Provider>,
      root,
    );
  };
  void act(draw);
  const alert = root.querySelector('[role=alert]');
  expect(alert?.textContent).toContain('Write could not be shown.');
  expect(alert?.textContent).toContain('everything that can be undone are still here');
  expect(alert?.querySelector('code')?.textContent).toBe('no such bar');
  expect(root.querySelector('nav')?.textContent).toBe('places');

  breaks = false;
  const button = [...root.querySelectorAll('button')].find(b => b.textContent === 'Undo the last step');
  void act(() => {
    button?.click();
  });
  expect(afterwards).toHaveBeenCalledWith(undoStep);
  expect(root.querySelector('p')?.textContent).toBe('the page');
});

it('a pupil is told in words of her own, and the teacher is not called for by name of a place', () => {
  const View = (): never => {
    throw new Error('no such bar');
  };
  const words = { broke: 'This page can not be shown.', undo: 'Take it back', again: 'Try again' };
  void act(() => {
    render(
      <AppContext.Provider value={undefined}>
        <Guarded name="grow" words={words}>
          <View />
        </Guarded>
      </AppContext.Provider>,
      root,
    );
  });
  expect([...root.querySelectorAll('h2, button')].map(e => e.textContent)).toEqual([
    'This page can not be shown.',
    'Take it back',
    'Try again',
  ]);
  expect(root.textContent).not.toContain('Grow');
});
