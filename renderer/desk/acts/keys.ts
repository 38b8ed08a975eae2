import type { AppParts } from '../appParts.ts';
import { makeLetter, selectNeighbour } from '../commands/corrections.ts';
import { dismissProblem } from '../commands/messages.ts';
import {
  canLimit,
  everywhere as everywhereLike,
  keepBar,
  letGo,
  limit,
  moveOnlyHere,
} from '../commands/pins.ts';
import { leavePitching } from '../commands/pitching.ts';
import { nextPupil } from '../commands/pupils.ts';
import { selectNotes, showWindow } from '../commands/settings.ts';
import {
  copyStatement,
  moveStatement,
  moveToPart,
  takeAway,
  walkStatements,
} from '../commands/statements.ts';
import { redoStep, undoStep } from '../commands/step.ts';
import { leaveTrial } from '../commands/trial.ts';
import { hearChosen, hearProjected } from './comparing.ts';
import { CORRECTIONS, GLISS_IT, ROLL_IT } from './corrections.ts';
import { leaveField } from './leaveField.ts';
import { pressMainAction } from './mainAction.ts';

/** Every key, as listed under ?. */
export const KEY_LIST: readonly {
  readonly keys: string;
  readonly does: string;
  readonly single?: boolean;
}[] = [
  { keys: 'Space', does: 'play and stop; play along, while a part is rehearsed' },
  { keys: 'Left, Right', does: 'choose the note before or after (Write); with Shift, more than one' },
  { keys: 'Up, Down', does: 'hear the way to write it before or after (in the list beside the page)' },
  { keys: 'Alt+Left, Alt+Right', does: 'move the note earlier or later; the reader follows' },
  { keys: 'Alt+Shift+Left, Right', does: 'move the note only here' },
  { keys: 'O', does: 'only here: take back what followed the last move', single: true },
  { keys: 'L', does: 'everywhere like this: the same for the same figure elsewhere', single: true },
  { keys: 'Alt+Up, Alt+Down', does: 'move the note up or down a step' },
  { keys: ', and .', does: 'shorten and lengthen the note', single: true },
  { keys: 'C D E F G A B', does: 'write the note with this letter (Write)', single: true },
  { keys: 'N', does: 'write the note under its other name (E♭ for D♯)', single: true },
  { keys: 'T', does: 'write the beat as a triplet, or not', single: true },
  { keys: 'R', does: 'write the note as a roll, or a roll as its strokes', single: true },
  { keys: 'S', does: 'write the notes as a glissando, or a glissando as its strokes', single: true },
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
  { keys: 'Ctrl+Enter', does: 'the main action of what is shown: catch that, use this motif, write it in' },
  { keys: 'Alt+N', does: 'the next pupil: what lies here is safe in the register' },
  { keys: 'Escape', does: 'stop, leave what is being tried, choose nothing' },
  { keys: 'P', does: 'the projector view: the page alone, large (Write, Grow)', single: true },
  { keys: 'Page Up, Page Down', does: 'the system before or after, in the projector view' },
  { keys: '?', does: 'this list', single: true },
  {
    keys: 'A S D F G H J K L',
    does: 'strike the front bars (Play; Grow, while a part is rehearsed)',
    single: true,
  },
  {
    keys: 'W E T Y U O P',
    does: 'strike the back bars (Play; Grow, while a part is rehearsed)',
    single: true,
  },
];

const typing = (target: EventTarget | null): boolean =>
  target instanceof Element && target.closest('input, textarea, select, [contenteditable=true]') !== null;

/** Of what is undone in a field, letter by letter; a menu or a box to tick has nothing of its own to undo. */
const undoesItself = (target: EventTarget | null): boolean =>
  target instanceof Element &&
  target.closest('textarea, input:not([type=range], [type=checkbox], [type=radio])') !== null;

const isUndo = (event: KeyboardEvent): boolean =>
  (event.ctrlKey || event.metaKey) && ['z', 'y'].includes(event.key.toLowerCase());

type Act = (() => void) | undefined;

const playOrStop = ({ desk, listening, rehearsing }: AppParts): void => {
  const view = desk.view.peek();
  const score = desk.growScore.peek();
  if (desk.hearing.peek() !== undefined) listening.stop();
  else if (desk.isRehearsing.peek()) rehearsing.start();
  else if (desk.window.peek() === 'projector') hearProjected(desk, listening);
  else if (view === 'write') hearChosen(desk, listening);
  else if (view === 'grow' && score !== undefined) listening.score('piece', score);
};

const MOVES: Readonly<Record<string, string>> = {
  ArrowLeft: 'earlier',
  ArrowRight: 'later',
  ArrowUp: 'higher',
  ArrowDown: 'lower',
};
const OTHERS: Readonly<Record<string, string>> = { Backspace: 'rest', Delete: 'delete', Insert: 'add' };
const SINGLE: Readonly<Record<string, string>> = {
  ',': 'shorter',
  '.': 'longer',
  T: 'triplet',
  N: 'respell',
  '1': 'first',
};
const WALK: Readonly<Record<string, 1 | -1>> = { ArrowLeft: -1, ArrowRight: 1 };
const BY_PART: Readonly<Record<string, 1 | -1>> = { ArrowUp: -1, ArrowDown: 1 };

const correction = ({ desk, asking }: AppParts, id: string | undefined): Act =>
  // Read when pressed: what is chosen then is what is corrected.
  id === undefined ? undefined : () => CORRECTIONS.find(c => c.id === id)?.run(desk, asking);

const forWrite = (event: KeyboardEvent, app: AppParts): Act => {
  const { desk, asking } = app;
  if (desk.view.peek() !== 'write' || desk.piece.peek() === undefined) return undefined;
  // Beside the keys that strike bars lie some that would change the page.
  if (desk.pitching.peek() !== undefined) return undefined;
  const walk = WALK[event.key];
  const chosen = desk.selectedNotes.peek();
  if (event.altKey) {
    if (!event.shiftKey || walk === undefined) return correction(app, MOVES[event.key]);
    return () => {
      asking.afterwards(moveOnlyHere, chosen, walk);
    };
  }
  if (walk !== undefined)
    return () => {
      desk.run(selectNeighbour, walk, event.shiftKey);
    };
  const other = correction(app, OTHERS[event.key]);
  if (other !== undefined || !desk.keyShortcuts.peek()) return other;
  const letter = event.key.toUpperCase();
  if (letter === 'U') return () => void asking.ask(letGo, chosen);
  if (letter === 'R')
    return () => {
      ROLL_IT.run(desk, asking);
    };
  if (letter === 'S')
    return () => {
      GLISS_IT.run(desk, asking);
    };
  if (letter === 'K') return () => void asking.ask(keepBar, chosen);
  if (letter === 'O')
    return canLimit(desk.now())
      ? () => {
          asking.afterwards(limit);
        }
      : undefined;
  if (letter === 'L') return () => void asking.ask(everywhereLike);
  if (/^[A-G]$/.test(letter))
    return () => {
      desk.run(makeLetter, letter);
    };
  return correction(app, SINGLE[letter]);
};

const forGrow = (event: KeyboardEvent, { desk }: AppParts): Act => {
  const id = desk.selectedStatement.peek();
  if (desk.view.peek() !== 'grow' || desk.piece.peek() === undefined) return undefined;
  // Beside the keys that strike bars lie some that would change the piece.
  if (desk.isRehearsing.peek()) return undefined;
  const walk = WALK[event.key];
  if (!event.altKey && walk !== undefined)
    return () => {
      desk.run(walkStatements, walk);
    };
  if (id === undefined) return undefined;
  if (event.altKey && walk !== undefined)
    return () => {
      desk.run(moveStatement, id, walk);
    };
  const part = BY_PART[event.key];
  if (event.altKey && part !== undefined)
    return () => {
      desk.run(moveToPart, id, part);
    };
  if (event.key === 'Delete')
    return () => {
      desk.run(takeAway, id);
    };
  if (desk.keyShortcuts.peek() && !event.altKey && event.key.toLowerCase() === 'c')
    return () => {
      desk.run(copyStatement, id);
    };
  return undefined;
};

const everywhere = (event: KeyboardEvent, app: AppParts): Act => {
  const { desk, asking, listening, opening, tapping } = app;
  const control = event.ctrlKey || event.metaKey;
  const letter = event.key.toLowerCase();
  const view = desk.view.peek();
  if (desk.taps.peek() !== undefined && event.key === ' ')
    return () => {
      if (!event.repeat) tapping.tap((performance.now() - event.timeStamp) / 1000);
    };
  if (control && (letter === 'z' || letter === 'y'))
    return () => {
      asking.afterwards(letter === 'y' || event.shiftKey ? redoStep : undoStep);
    };
  if (control) return undefined;
  // What sounds on the projector stops first. Else the browser closes the window that is open, unless the key is
  // taken from it, and gives the focus back to where it was.
  if (event.key === 'Escape' && document.querySelector('dialog[open]') !== null)
    return desk.window.peek() === 'projector' && desk.hearing.peek() !== undefined
      ? () => {
          listening.stop();
        }
      : undefined;
  if (event.key === 'Escape')
    return () => {
      desk.run(showWindow, undefined);
      desk.run(dismissProblem);
      tapping.leave();
      desk.run(leavePitching);
      listening.stop();
      opening.stop();
      if (desk.trial.peek() !== undefined || desk.refused.peek() !== undefined) desk.run(leaveTrial);
      else desk.run(selectNotes, []);
    };
  // A pupil corrects by ear, with cards; a key pressed by chance changes nothing.
  if (desk.isPupilView.peek())
    return event.key === ' ' && !(event.target instanceof HTMLButtonElement) && view !== 'play'
      ? () => {
          playOrStop(app);
        }
      : undefined;
  if (letter === 'p' && !event.altKey && desk.keyShortcuts.peek() && (view === 'write' || view === 'grow'))
    return () => {
      desk.run(showWindow, desk.window.peek() === 'projector' ? undefined : 'projector');
    };
  if (event.key === '?' && desk.keyShortcuts.peek())
    return () => {
      desk.run(showWindow, desk.window.peek() === 'keys' ? undefined : 'keys');
    };
  if (event.key === ' ' && !(event.target instanceof HTMLButtonElement) && desk.view.peek() !== 'play')
    return () => {
      playOrStop(app);
    };
  return forWrite(event, app) ?? forGrow(event, app);
};

/** From a field too, and by position too: with Alt, some keyboards make another letter of it. */
const isNext = (event: KeyboardEvent): boolean =>
  event.altKey && !event.ctrlKey && (event.key.toLowerCase() === 'n' || event.code === 'KeyN');

/** From a field too. */
const isMain = (event: KeyboardEvent): boolean =>
  event.key === 'Enter' && (event.ctrlKey || event.metaKey) && !event.altKey && !event.shiftKey;

/** Keys that work everywhere; those of the tone bars are listened for by the bars themselves. */
export const watchKeys = (app: AppParts): (() => void) => {
  const listen = (event: KeyboardEvent): void => {
    // It struck a bar, or was for a panel.
    if (event.defaultPrevented) return;
    const act = isNext(event)
      ? () => {
          leaveField();
          app.desk.run(nextPupil);
        }
      : isMain(event)
        ? () => {
            if (!event.repeat) pressMainAction();
          }
        : isUndo(event)
          ? undoesItself(event.target)
            ? undefined
            : everywhere(event, app)
          : typing(event.target)
            ? undefined
            : everywhere(event, app);
    if (act === undefined) return;
    event.preventDefault();
    act();
  };
  window.addEventListener('keydown', listen);
  return () => {
    window.removeEventListener('keydown', listen);
  };
};
