// @vitest-environment happy-dom
import { afterEach, describe, expect, it } from 'vitest';
import { watchKeys } from '../../../renderer/desk/acts/keys.ts';
import { openAny } from '../../../renderer/desk/acts/openAny.ts';
import type { AppParts } from '../../../renderer/desk/appParts.ts';
import { deskWithPiece } from '../fixtures.ts';

/** A field with words under way, and what was taken over of them when. */
const fieldWith = (words: string, taken: string[]): HTMLInputElement => {
  const field = document.createElement('input');
  document.body.append(field);
  field.addEventListener('blur', () => taken.push(`words ${field.value}`));
  field.focus();
  field.value = words;
  return field;
};
afterEach(() => {
  document.body.replaceChildren();
});

describe('words under way are taken over by the piece they were typed for', () => {
  it('before Alt and N goes to the next pupil', async () => {
    const { desk } = await deskWithPiece();
    const taken: string[] = [];
    const field = fieldWith('Bell', taken);
    const run = (): boolean => {
      taken.push('next pupil');
      return true;
    };
    const stop = watchKeys({ desk: { ...desk, run } } as unknown as AppParts);
    field.dispatchEvent(
      new KeyboardEvent('keydown', { key: 'n', code: 'KeyN', altKey: true, bubbles: true }),
    );
    expect(taken).toEqual(['words Bell', 'next pupil']);
    stop();
  });

  it.each([
    ['a take', 'idea.mid'],
    ['a portable file', 'class.malletloom'],
  ])('before %s is opened', async (_, name) => {
    const taken: string[] = [];
    fieldWith('Bell', taken);
    const opens = (file: File): Promise<void> => {
      taken.push(file.name);
      return Promise.resolve();
    };
    const app = { opening: { file: opens }, carrying: { bringIn: opens } } as unknown as AppParts;
    await openAny(app, new File([], name));
    expect(taken).toEqual(['words Bell', name]);
  });
});

describe('Ctrl and Z', () => {
  it('undoes in a field that is written in, and takes back a step from anywhere else, a menu too', async () => {
    const { desk } = await deskWithPiece();
    const steps: string[] = [];
    const asking = { afterwards: () => steps.push('back') };
    const stop = watchKeys({ desk, asking } as unknown as AppParts);
    for (const [html, expected] of [
      ['<input>', 0],
      ['<input type="number">', 0],
      ['<textarea></textarea>', 0],
      ['<select><option>4/4</option></select>', 1],
      ['<input type="range">', 1],
      ['<button>Hear</button>', 1],
    ] as const) {
      document.body.innerHTML = html;
      steps.length = 0;
      const event = new KeyboardEvent('keydown', {
        key: 'z',
        ctrlKey: true,
        bubbles: true,
        cancelable: true,
      });
      document.body.firstElementChild?.dispatchEvent(event);
      expect([html, steps.length, event.defaultPrevented]).toEqual([html, expected, expected === 1]);
    }
    stop();
  });
});
