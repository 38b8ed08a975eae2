// @vitest-environment happy-dom
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createKeyBars, type KeyBars, keyMap } from '../../renderer/input/keyBars.ts';
import type { LetGo, Struck } from '../../renderer/input/struck.ts';

describe('the map of keys', () => {
  it('puts successive naturals in front and accidentals behind, from middle C', () => {
    const map = keyMap(60);
    const front = [
      'KeyA',
      'KeyS',
      'KeyD',
      'KeyF',
      'KeyG',
      'KeyH',
      'KeyJ',
      'KeyK',
      'KeyL',
      'Semicolon',
      'Quote',
    ];
    expect(front.map(code => map.get(code))).toEqual([60, 62, 64, 65, 67, 69, 71, 72, 74, 76, 77]);
    const behind = ['KeyQ', 'KeyW', 'KeyE', 'KeyR', 'KeyT', 'KeyY', 'KeyU', 'KeyI', 'KeyO', 'KeyP'];
    expect(behind.map(code => map.get(code))).toEqual([
      undefined,
      61,
      63,
      undefined,
      66,
      68,
      70,
      undefined,
      73,
      75,
    ]);
  });

  it('begins at another natural, with the accidental below it behind', () => {
    const map = keyMap(57);
    expect([map.get('KeyQ'), map.get('KeyA'), map.get('KeyW'), map.get('KeyS')]).toEqual([56, 57, 58, 59]);
    expect(keyMap(61).get('KeyA')).toBe(62);
  });
});

describe('the computer keyboard', () => {
  let strikes: Struck[];
  let releases: LetGo[];
  let bars: KeyBars;
  const key = (
    type: 'keydown' | 'keyup',
    code: string,
    more: KeyboardEventInit = {},
    on: EventTarget = document.body,
  ) => {
    const event = new KeyboardEvent(type, { code, bubbles: true, cancelable: true, ...more });
    on.dispatchEvent(event);
    return event;
  };

  beforeEach(() => {
    document.body.innerHTML = '';
    strikes = [];
    releases = [];
    bars = createKeyBars(window, {
      onStrike: strike => strikes.push(strike),
      onRelease: release => releases.push(release),
      lowest: 60,
      isSetOut: pitch => pitch !== 65,
    });
  });
  afterEach(() => {
    bars.stop();
  });

  it('strikes and lets go', () => {
    key('keydown', 'KeyA');
    key('keyup', 'KeyA');
    expect(strikes).toMatchObject([{ pitch: 60, by: { source: 'keys' } }]);
    expect(releases).toMatchObject([{ pitch: 60 }]);
    expect(releases[0]?.at).toBeGreaterThanOrEqual(strikes[0]?.at ?? Infinity);
  });

  it('plays several at once', () => {
    key('keydown', 'KeyA');
    key('keydown', 'KeyD');
    expect(strikes.map(({ pitch }) => pitch)).toEqual([60, 64]);
  });

  it('is louder with shift', () => {
    key('keydown', 'KeyA');
    key('keydown', 'KeyS', { shiftKey: true });
    expect(strikes[1]?.velocity).toBeGreaterThan(strikes[0]?.velocity ?? 127);
  });

  it('ignores a key held down', () => {
    key('keydown', 'KeyA');
    key('keydown', 'KeyA', { repeat: true });
    key('keydown', 'KeyA');
    expect(strikes).toHaveLength(1);
  });

  it.each([{ ctrlKey: true }, { metaKey: true }, { altKey: true }])(
    'leaves shortcuts alone: %o',
    modifier => {
      expect(key('keydown', 'KeyA', modifier).defaultPrevented).toBe(false);
      expect(strikes).toHaveLength(0);
    },
  );

  it.each(['<input>', '<textarea></textarea>', '<select></select>', '<div contenteditable="true"></div>'])(
    'leaves typing in %s alone',
    html => {
      document.body.innerHTML = html;
      key('keydown', 'KeyA', {}, document.body.firstElementChild ?? document.body);
      expect(strikes).toHaveLength(0);
    },
  );

  it('leaves other keys alone', () => {
    for (const code of ['Space', 'Comma', 'Period', 'ArrowLeft', 'Tab', 'Slash', 'KeyZ']) {
      expect(key('keydown', code).defaultPrevented).toBe(false);
    }
    expect(strikes).toHaveLength(0);
  });

  it('gives no sound for a lifted bar', () => {
    key('keydown', 'KeyF');
    expect(strikes).toHaveLength(0);
  });

  it('can be switched off and on, letting go of what was held', () => {
    key('keydown', 'KeyA');
    bars.setOn(false);
    expect(releases).toHaveLength(1);
    key('keydown', 'KeyS');
    expect(strikes).toHaveLength(1);
    bars.setOn(true);
    key('keydown', 'KeyS');
    expect(strikes).toHaveLength(2);
  });

  it('lets go of all when the window loses the keyboard', () => {
    key('keydown', 'KeyA');
    key('keydown', 'KeyS');
    window.dispatchEvent(new Event('blur'));
    expect(releases.map(({ pitch }) => pitch)).toEqual([60, 62]);
  });

  it('hears nothing after its stop', () => {
    bars.stop();
    key('keydown', 'KeyA');
    expect(strikes).toHaveLength(0);
  });
});
