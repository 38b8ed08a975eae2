// @vitest-environment happy-dom
/** @jsxImportSource preact */
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { AppContext } from '../../renderer/desk/appContext.ts';
import type { AppParts } from '../../renderer/desk/appParts.ts';
import { leaveField } from '../../renderer/desk/acts/leaveField.ts';
import { createDesk, type Desk } from '../../renderer/desk/desk.ts';
import { SentenceNumber } from '../../renderer/views/parts/sentence.tsx';
import { useTyping } from '../../renderer/views/parts/typing.ts';
import { pieceOf, SCALE, THRICE, withPiece } from './pieces.ts';

const root = document.createElement('div');
document.body.append(root);
let taken: [words: string, goesOn: boolean][] = [];
let desk: Desk;
beforeEach(() => {
  vi.useFakeTimers();
  taken = [];
  desk = createDesk(withPiece(pieceOf(SCALE)));
});
afterEach(() => {
  render(null, root);
  vi.useRealTimers();
});

const Field = (props: { value: string; pause?: number }) => {
  const typing = useTyping(
    props.value,
    (words, goesOn) => {
      taken.push([words, goesOn]);
    },
    props.pause,
  );
  return <input {...typing} />;
};

const show = (what: preact.ComponentChildren) => {
  void act(() => {
    render(<AppContext.Provider value={{ desk } as unknown as AppParts}>{what}</AppContext.Provider>, root);
  });
  return root.querySelector('input');
};
const type = (letters: string) => {
  const field = root.querySelector('input');
  if (field === null) throw new Error('no field');
  void act(() => {
    field.focus();
    field.value += letters;
    field.dispatchEvent(new Event('input', { bubbles: true }));
  });
};
const pass = (ms: number) => {
  void act(() => {
    vi.advanceTimersByTime(ms);
  });
};
const openAnother = () => {
  void act(() => {
    desk.run(() => ({ ok: true, value: withPiece(pieceOf(THRICE)) }));
  });
};

describe('words under way in a field', () => {
  it('stand while everything round them is drawn anew, and are taken over once when the field is left', () => {
    show(<Field value="Bell" />);
    type(' and');
    expect(show(<Field value="Bell" />)?.value).toBe('Bell and');
    type(' ferry');
    expect(show(<Field value="Bell" />)?.value).toBe('Bell and ferry');
    pass(60_000);
    expect(taken).toEqual([]);
    void act(leaveField);
    expect(taken).toEqual([['Bell and ferry', false]]);
    // What was made of them is shown, not what was typed.
    expect(show(<Field value="Bell, ferry" />)?.value).toBe('Bell, ferry');
  });

  it('are taken over at each pause where one is given, the later ones as going on, until the field is left', () => {
    show(<Field value="" pause={500} />);
    type('G');
    pass(499);
    expect(taken).toEqual([]);
    type('o');
    pass(500);
    type(' on.');
    pass(500);
    void act(leaveField);
    type('!');
    pass(500);
    expect(taken).toEqual([
      ['Go', false],
      ['Go on.', true],
      ['!', false],
    ]);
  });

  it('are taken over when the field goes away, and not twice', () => {
    show(<Field value="" pause={500} />);
    type('Bell');
    show(<p>another place</p>);
    pass(1000);
    expect(taken).toEqual([['Bell', false]]);
  });

  it('never go to another piece than the one they were typed for', () => {
    show(<Field value="" pause={500} />);
    type('Bell');
    openAnother();
    expect(show(<Field value="Tin roof" pause={500} />)?.value).toBe('Tin roof');
    pass(1000);
    void act(leaveField);
    show(<p>another place</p>);
    expect(taken).toEqual([]);
  });

  it('Escape gives a line back what it was; what the browser undoes in a field that was left is not taken over', () => {
    show(<Field value="Bell" />);
    type(' and');
    const field = root.querySelector('input');
    if (field === null) throw new Error('no field');
    void act(() => {
      field.dispatchEvent(new KeyboardEvent('keydown', { key: 'Escape', bubbles: true }));
    });
    expect(field.value).toBe('Bell');
    void act(leaveField);
    void act(() => {
      field.value = 'B';
      field.dispatchEvent(new Event('input', { bubbles: true }));
    });
    expect(field.value).toBe('Bell');
    show(<p>another place</p>);
    expect(taken).toEqual([]);
  });

  it('Escape gives a line back what it was, where a pause has taken some of it over, too', () => {
    show(<Field value="Bell" pause={500} />);
    type(' an');
    pass(500);
    show(<Field value="Bell an" pause={500} />);
    type('d');
    pass(500);
    show(<Field value="Bell and" pause={500} />);
    const field = root.querySelector('input');
    const escape = () => {
      void act(() => {
        field?.dispatchEvent(new KeyboardEvent('keydown', { key: 'Escape', bubbles: true }));
      });
    };
    escape();
    expect(taken).toEqual([
      ['Bell an', false],
      ['Bell and', true],
      ['Bell', true],
    ]);
    // Once: what is there now is what there is.
    escape();
    void act(leaveField);
    expect(taken).toHaveLength(3);
  });

  it('a number is kept in its range, what is none changes nothing, and the field shows what holds', () => {
    const chosen: number[] = [];
    const number = () => (
      <SentenceNumber before="Tempo" value={100} least={40} most={240} onChoose={v => chosen.push(v)} />
    );
    for (const typed of ['7', '', '1e9']) {
      const field = show(number());
      if (field === null) throw new Error('no field');
      field.value = '';
      type(typed);
      expect(show(number())?.value).toBe(typed);
      void act(leaveField);
      expect(show(number())?.value).toBe('100');
    }
    expect(chosen).toEqual([40, 240]);
  });
});
