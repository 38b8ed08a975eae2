// @vitest-environment happy-dom
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createPointerBars, type PointerBars } from '../../renderer/input/pointerBars.ts';
import type { LetGo, Struck } from '../../renderer/input/struck.ts';

describe('bars on the screen', () => {
  let root: HTMLElement;
  let strikes: Struck[];
  let releases: LetGo[];
  let bars: PointerBars;
  const bar = (pitch: number): HTMLElement => {
    const found = root.querySelector<HTMLElement>(`[data-pitch="${String(pitch)}"]`);
    if (found === null) throw new Error('no such bar');
    return found;
  };
  const point = (type: string, on: Element, more: PointerEventInit = {}): void => {
    on.dispatchEvent(
      new PointerEvent(type, { bubbles: true, pointerId: 1, pointerType: 'touch', button: 0, ...more }),
    );
  };

  beforeEach(() => {
    document.body.innerHTML = `<div id="bars">
      <button data-pitch="60"><span>C</span></button><button data-pitch="62">D</button>
      <button data-pitch="64" disabled>E</button><button data-pitch="x">?</button><i>wood</i>
    </div>`;
    root = document.querySelector<HTMLElement>('#bars') ?? document.body;
    for (const [i, pitch] of [60, 62].entries()) {
      bar(pitch).getBoundingClientRect = () => new DOMRect(i * 100, 0, 90, 200);
    }
    // A page without layout: what lies under a point follows from the boxes above.
    document.elementFromPoint = (x: number) => (x < 0 ? root : x < 100 ? bar(60) : bar(62));
    strikes = [];
    releases = [];
    bars = createPointerBars(root, {
      onStrike: strike => strikes.push(strike),
      onRelease: release => releases.push(release),
    });
  });
  afterEach(() => {
    bars.stop();
  });

  it('are struck and let go, also by what is printed on them', () => {
    point('pointerdown', bar(60).querySelector('span') ?? root);
    point('pointerup', document.body);
    expect(strikes).toMatchObject([{ pitch: 60, by: { source: 'screen' } }]);
    expect(releases).toMatchObject([{ pitch: 60 }]);
  });

  it('sound several at once, each let go by its own finger', () => {
    point('pointerdown', bar(60), { pointerId: 1 });
    point('pointerdown', bar(62), { pointerId: 2 });
    point('pointerup', document.body, { pointerId: 2 });
    expect(strikes.map(({ pitch }) => pitch)).toEqual([60, 62]);
    expect(releases.map(({ pitch }) => pitch)).toEqual([62]);
  });

  it('are louder struck nearer the player, and by a pen pressed harder', () => {
    point('pointerdown', bar(60), { clientY: 20 });
    point('pointerdown', bar(60), { clientY: 180 });
    point('pointerdown', bar(60), { clientY: 20, pointerType: 'pen', pressure: 0.95 });
    const [far, near, pen] = strikes.map(({ velocity }) => velocity) as [number, number, number];
    expect(near).toBeGreaterThan(far);
    expect(pen).toBeGreaterThan(near);
    for (const velocity of [far, near, pen]) expect(velocity >= 1 && velocity <= 127).toBe(true);
  });

  it('do not answer the other mouse buttons, lifted bars, the frame, or a bar without a pitch', () => {
    point('pointerdown', bar(60), { pointerType: 'mouse', button: 2 });
    point('pointerdown', bar(64));
    point('pointerdown', root.querySelector('i') ?? root);
    point('pointerdown', root.querySelector('[data-pitch="x"]') ?? root);
    expect(strikes).toHaveLength(0);
  });

  it('answer a slide only when glissando is on', () => {
    point('pointerdown', bar(60), { clientX: 10 });
    point('pointermove', bar(60), { clientX: 150 });
    expect(strikes.map(({ pitch }) => pitch)).toEqual([60]);
    bars.setGlissando(true);
    point('pointermove', bar(60), { clientX: 150 });
    point('pointermove', bar(60), { clientX: 160 });
    point('pointermove', bar(60), { clientX: -5 });
    point('pointermove', bar(60), { clientX: 10 });
    point('pointerup', document.body);
    expect(strikes.map(({ pitch }) => pitch)).toEqual([60, 62, 60]);
    expect(releases.map(({ pitch }) => pitch)).toEqual([60, 62, 60]);
  });

  it('do not answer a pointer that only passes over', () => {
    bars.setGlissando(true);
    point('pointermove', bar(60), { clientX: 10 });
    expect(strikes).toHaveLength(0);
  });

  it('can be struck by Enter, Space or a screen reader, and not twice by a finger', () => {
    bar(62).dispatchEvent(new MouseEvent('click', { bubbles: true, detail: 0 }));
    expect(strikes.map(({ pitch }) => pitch)).toEqual([62]);
    point('pointerdown', bar(60));
    bar(60).dispatchEvent(new MouseEvent('click', { bubbles: true, detail: 1 }));
    expect(strikes.map(({ pitch }) => pitch)).toEqual([62, 60]);
  });

  it('let go of everything at the stop and hear nothing after', () => {
    point('pointerdown', bar(60));
    bars.stop();
    expect(releases).toHaveLength(1);
    point('pointerdown', bar(62));
    expect(strikes).toHaveLength(1);
  });
});
