import { isNatural } from '../../core/foundation/pitch.ts';
import type { MidiPitch } from '../../core/foundation/units.ts';
import { type LetGo, type Struck, type StruckBy, timeOf } from './struck.ts';

/** Keys by their place on the board, whatever letter a country prints on them. */
const FRONT = [
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
] as const;
/** The row behind; BEHIND[i] lies between FRONT[i - 1] and FRONT[i]. */
const BEHIND = [
  'KeyQ',
  'KeyW',
  'KeyE',
  'KeyR',
  'KeyT',
  'KeyY',
  'KeyU',
  'KeyI',
  'KeyO',
  'KeyP',
  'BracketLeft',
] as const;

/**
 * Which bar each key strikes: successive naturals in the front row from `lowest` up, accidentals
 * behind, each between its neighbours, as on the instrument itself.
 * @param lowest the first natural; an accidental is taken as the natural above it
 * @example keyMap(60).get('KeyA') // 60, middle C
 */
export const keyMap = (lowest: MidiPitch): ReadonlyMap<string, MidiPitch> => {
  const map = new Map<string, MidiPitch>();
  let pitch = isNatural(lowest) ? lowest : lowest + 1;
  FRONT.forEach((front, i) => {
    const behind = BEHIND[i];
    if (behind !== undefined && !isNatural(pitch - 1)) map.set(behind, pitch - 1);
    map.set(front, pitch);
    pitch += isNatural(pitch + 1) ? 1 : 2;
  });
  return map;
};

export interface KeyBarsOptions {
  readonly onStrike: (strike: Struck) => void;
  readonly onRelease: (release: LetGo) => void;
  /** The natural struck by the leftmost key of the front row. */
  readonly lowest: MidiPitch;
  /** Whether a bar is set out; a lifted bar gives no sound. All are, unless said. */
  readonly isSetOut?: (pitch: MidiPitch) => boolean;
}

export interface KeyBars {
  setLowest(pitch: MidiPitch): void;
  /** Single-letter keys can be switched off (WCAG 2.1.4). */
  setOn(on: boolean): void;
  stop(): void;
}

const BY: StruckBy = { id: 'keys', name: 'Computer keyboard', source: 'keys' };
/** A key says nothing of force: one loudness, and a louder one with shift. */
const SOFT = 80;
const LOUD = 112;

const isTyping = (target: EventTarget | null): boolean =>
  target instanceof Element &&
  target.closest(
    'input:not([type=checkbox],[type=radio],[type=button],[type=range]), textarea, select, [contenteditable=""], [contenteditable=true], [role=textbox]',
  ) !== null;

/** Two rows of the computer keyboard as bars. */
export const createKeyBars = (target: Window, options: KeyBarsOptions): KeyBars => {
  let map = keyMap(options.lowest);
  let on = true;
  const down = new Map<string, MidiPitch>();

  const release = (code: string, at: number): void => {
    const pitch = down.get(code);
    if (pitch === undefined) return;
    down.delete(code);
    options.onRelease({ at: timeOf(at), pitch, by: BY });
  };
  const releaseAll = (): void => {
    for (const code of [...down.keys()]) release(code, performance.now());
  };
  const press = (event: KeyboardEvent): void => {
    const pitch = map.get(event.code);
    if (!on || pitch === undefined || event.defaultPrevented || event.isComposing) return;
    if (event.ctrlKey || event.altKey || event.metaKey || isTyping(event.target)) return;
    // Some browsers open a search on the quote key.
    event.preventDefault();
    if (event.repeat || down.has(event.code) || options.isSetOut?.(pitch) === false) return;
    down.set(event.code, pitch);
    options.onStrike({ at: timeOf(event.timeStamp), pitch, velocity: event.shiftKey ? LOUD : SOFT, by: BY });
  };
  const lift = (event: KeyboardEvent): void => {
    release(event.code, event.timeStamp);
  };

  target.addEventListener('keydown', press);
  target.addEventListener('keyup', lift);
  // A key let go in another window is never reported here.
  target.addEventListener('blur', releaseAll);
  return {
    setLowest: pitch => {
      releaseAll();
      map = keyMap(pitch);
    },
    setOn: now => {
      on = now;
      if (!on) releaseAll();
    },
    stop: () => {
      releaseAll();
      target.removeEventListener('keydown', press);
      target.removeEventListener('keyup', lift);
      target.removeEventListener('blur', releaseAll);
    },
  };
};
