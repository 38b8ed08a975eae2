import { signal } from '@preact/signals';
import {
  growScore,
  hearing,
  keyShortcuts,
  piece,
  place,
  preview,
  selectedNotes,
  selectedStatement,
  writeScore,
} from './app.ts';
import { redoStep, undoStep } from './change.ts';
import { type Tapping, taps } from './tapping.ts';
import { keepBar, letGo, makeLetter, move, selectNeighbour } from './correct.ts';
import { CORRECTIONS } from './corrections.ts';
import { canLimit, limit } from './pinning.ts';
import {
  copyStatement,
  leavePreview,
  moveStatement,
  moveToPart,
  takeAway,
  walkStatements,
} from './develop.ts';
import type { Listening } from './hear.ts';
import { hearPage } from './comparing.ts';

/** Whether the list of keys is open. */
export const keysShown = signal(false);

/** Every key, as listed under ?. */
export const KEY_LIST: readonly {
  readonly keys: string;
  readonly does: string;
  readonly single?: boolean;
}[] = [
  { keys: 'Space', does: 'play and stop' },
  { keys: 'Left, Right', does: 'choose the note before or after (Write); with Shift, more than one' },
  { keys: 'Up, Down', does: 'hear the way to write it before or after (in the list beside the page)' },
  { keys: 'Alt+Left, Alt+Right', does: 'move the note earlier or later; the reader follows' },
  { keys: 'Alt+Shift+Left, Right', does: 'move the note only here' },
  { keys: 'O', does: 'only here: take back what followed the last move', single: true },
  { keys: 'Alt+Up, Alt+Down', does: 'move the note up or down a step' },
  { keys: ', and .', does: 'shorten and lengthen the note', single: true },
  { keys: 'C D E F G A B', does: 'write the note with this letter (Write)', single: true },
  { keys: 'T', does: 'write the beat as a triplet, or not', single: true },
  { keys: '1', does: 'the first beat is here', single: true },
  { keys: 'K', does: 'keep this bar as it is written', single: true },
  { keys: 'U', does: 'let a note go that was put in its place', single: true },
  { keys: 'Backspace', does: 'a rest instead of the note' },
  { keys: 'Delete', does: 'delete the note' },
  { keys: 'Insert', does: 'add a note' },
  { keys: 'Space', does: 'a tap, while you tap the beat' },
  { keys: 'Left, Right', does: 'choose the bracket before or after (Grow)' },
  { keys: 'Alt+Left, Alt+Right', does: 'move the statement a beat earlier or later (Grow)' },
  { keys: 'Alt+Up, Alt+Down', does: 'give the statement to the part above or below (Grow)' },
  { keys: 'Delete', does: 'take the statement away (Grow)' },
  { keys: 'C', does: 'copy the statement (Grow)', single: true },
  { keys: 'Ctrl+Z, Ctrl+Shift+Z', does: 'undo and redo' },
  { keys: 'Escape', does: 'stop, leave what is being tried, choose nothing' },
  { keys: '?', does: 'this list', single: true },
  { keys: 'A S D F G H J K L', does: 'strike the front bars (Play)', single: true },
  { keys: 'W E T Y U O P', does: 'strike the back bars (Play)', single: true },
];

const typing = (target: EventTarget | null): boolean =>
  target instanceof Element && target.closest('input, textarea, select, [contenteditable=true]') !== null;

const playOrStop = (listening: Listening): void => {
  if (hearing.value !== undefined) listening.stop();
  else if (place.value === 'write' && writeScore.value !== undefined) hearPage(listening);
  else if (place.value === 'grow' && growScore.value !== undefined) listening.score('piece', growScore.value);
};

const correction = (id: string): (() => void) => CORRECTIONS.find(c => c.id === id)?.run ?? (() => undefined);

const forWrite = (event: KeyboardEvent): (() => void) | undefined => {
  if (place.value !== 'write' || piece.value === undefined) return undefined;
  if (event.altKey) {
    const moves: Readonly<Record<string, string>> = {
      ArrowLeft: 'earlier',
      ArrowRight: 'later',
      ArrowUp: 'higher',
      ArrowDown: 'lower',
    };
    if (event.shiftKey && (event.key === 'ArrowLeft' || event.key === 'ArrowRight'))
      return () => {
        move(event.key === 'ArrowLeft' ? -1 : 1, true);
      };
    const id = moves[event.key];
    return id === undefined ? undefined : correction(id);
  }
  if (event.key === 'ArrowLeft')
    return () => {
      selectNeighbour(-1, event.shiftKey);
    };
  if (event.key === 'ArrowRight')
    return () => {
      selectNeighbour(1, event.shiftKey);
    };
  if (event.key === 'Backspace') return correction('rest');
  if (event.key === 'Delete') return correction('delete');
  if (event.key === 'Insert') return correction('add');
  if (!keyShortcuts.value) return undefined;
  if (event.key === ',') return correction('shorter');
  if (event.key === '.') return correction('longer');
  const letter = event.key.toUpperCase();
  if (letter === 'T') return correction('triplet');
  if (letter === '1') return correction('first');
  if (letter === 'U') return letGo;
  if (letter === 'K') return keepBar;
  if (letter === 'O') return canLimit() ? limit : undefined;
  return /^[A-G]$/.test(letter)
    ? () => {
        makeLetter(letter);
      }
    : undefined;
};

const forGrow = (event: KeyboardEvent): (() => void) | undefined => {
  const id = selectedStatement.value;
  if (place.value !== 'grow' || piece.value === undefined) return undefined;
  const walk = event.key === 'ArrowLeft' ? -1 : event.key === 'ArrowRight' ? 1 : undefined;
  if (!event.altKey && walk !== undefined)
    return () => {
      walkStatements(walk);
    };
  if (id === undefined) return undefined;
  if (event.altKey && walk !== undefined)
    return () => {
      moveStatement(id, walk);
    };
  const part = event.key === 'ArrowUp' ? -1 : event.key === 'ArrowDown' ? 1 : undefined;
  if (event.altKey && part !== undefined)
    return () => {
      moveToPart(id, part);
    };
  if (event.key === 'Delete')
    return () => {
      takeAway(id);
    };
  if (keyShortcuts.value && !event.altKey && event.key.toLowerCase() === 'c')
    return () => {
      copyStatement(id);
    };
  return undefined;
};

/** Keys that work everywhere; those of the bars are listened for by the bars themselves. */
export const watchKeys = (listening: Listening, tapping: Tapping): void => {
  window.addEventListener('keydown', event => {
    if (typing(event.target)) return;
    const control = event.ctrlKey || event.metaKey;
    let act: (() => void) | undefined;
    if (taps.value !== undefined && event.key === ' ') {
      act = () => {
        if (!event.repeat) tapping.tap((performance.now() - event.timeStamp) / 1000);
      };
    } else if (control && event.key.toLowerCase() === 'z') act = event.shiftKey ? redoStep : undoStep;
    else if (control && event.key.toLowerCase() === 'y') act = redoStep;
    else if (control) return;
    else if (event.key === 'Escape') {
      act = () => {
        keysShown.value = false;
        tapping.leave();
        listening.stop();
        if (preview.value !== undefined) leavePreview();
        else selectedNotes.value = [];
      };
    } else if (event.key === '?' && keyShortcuts.value) {
      act = () => {
        keysShown.value = !keysShown.value;
      };
    } else if (event.key === ' ' && !(event.target instanceof HTMLButtonElement) && place.value !== 'play') {
      act = () => {
        playOrStop(listening);
      };
    } else act = forWrite(event) ?? forGrow(event);
    if (act === undefined) return;
    event.preventDefault();
    act();
  });
};
