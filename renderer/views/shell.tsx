import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { say } from '../../core/foundation/result.ts';
import { useApp } from '../desk/appContext.ts';
import { nextPupil } from '../desk/commands/pupils.ts';
import { goTo, showWindow } from '../desk/commands/settings.ts';
import { redoStep, undoStep } from '../desk/commands/step.ts';
import type { View } from '../desk/session.ts';
import { ListeningSign } from './parts/listeningSign.tsx';
import { ProblemBox } from './parts/problemBox.tsx';
import { KeepVersion } from './pieceSentence.tsx';
import { SafeSign } from './safeSign.tsx';

const VIEWS: readonly { readonly id: View; readonly text: string }[] = [
  { id: 'play', text: 'Play' },
  { id: 'write', text: 'Write' },
  { id: 'grow', text: 'Grow' },
  { id: 'keep', text: 'Keep' },
];

const Views = (): ComponentChildren => {
  const { desk } = useApp();
  return (
    <nav aria-label="Places">
      <ol class="places">
        {VIEWS.map(({ id, text }) => {
          const empty = (id === 'write' || id === 'grow') && desk.piece.value === undefined;
          return (
            <li key={id}>
              <button
                class="place"
                aria-current={desk.view.value === id ? 'page' : undefined}
                disabled={empty}
                title={empty ? 'Catch an idea first' : undefined}
                onClick={() => {
                  desk.run(goTo, id);
                }}
              >
                {text}
              </button>
            </li>
          );
        })}
      </ol>
    </nav>
  );
};

/** One press, from every place: what lies here is safe, and the next pupil plays. */
const Next = (): ComponentChildren => {
  const { desk } = useApp();
  const next = desk.nextPupil.value;
  return (
    <button
      class="next"
      title="Alt+N; what lies here is safe in the register"
      onClick={() => {
        desk.run(nextPupil);
      }}
    >
      <span>{next === undefined ? 'Next pupil' : `Next: ${next.codeName}`}</span>
      <span aria-hidden="true">›</span>
    </button>
  );
};

const History = (): ComponentChildren => {
  const { desk, asking } = useApp();
  const last = desk.history.value?.past.at(-1);
  const next = desk.history.value?.future[0];
  return (
    <div class="history">
      <button
        class="second"
        disabled={last === undefined}
        onClick={() => {
          asking.afterwards(undoStep);
        }}
        title={last === undefined ? 'Ctrl+Z' : `Ctrl+Z: ${last.name}`}
        aria-label={last === undefined ? 'Undo' : `Undo: ${last.name}`}
      >
        Undo
      </button>
      <button
        class="second"
        disabled={next === undefined}
        onClick={() => {
          asking.afterwards(redoStep);
        }}
        title={next === undefined ? 'Ctrl+Shift+Z' : `Ctrl+Shift+Z: ${next.name}`}
        aria-label={next === undefined ? 'Redo' : `Redo: ${next.name}`}
      >
        Redo
      </button>
    </div>
  );
};

const Messages = (): ComponentChildren => {
  const { desk } = useApp();
  return (
    <>
      <ProblemBox words={say} />
      <p class="unseen" role="status">
        {desk.work.value?.text ?? desk.notice.value}
      </p>
    </>
  );
};

/** The frame every place stands in. */
export const Shell = (props: { children: ComponentChildren }): ComponentChildren => {
  const { desk } = useApp();
  const main = useRef<HTMLElement>(null);
  const view = desk.view.value;
  useEffect(() => {
    // What was pressed is gone with its place: the keyboard goes on where the new one begins.
    if (document.activeElement === document.body) main.current?.focus();
  }, [view]);
  return (
    <div class="shell">
      <header>
        <h1 class="name">Malletloom</h1>
        <Views />
        <ListeningSign />
        <span class="grow-space" />
        <SafeSign />
        {/* In Keep it is the main action. */}
        {view === 'keep' ? null : <KeepVersion class="second keep-version" />}
        <History />
        <button
          class="second keys-button"
          onClick={() => {
            desk.run(showWindow, 'keys');
          }}
          aria-label="Help and all keys"
          title="Help, all keys and settings (?)"
        >
          ?
        </button>
        <Next />
      </header>
      <Messages />
      <main class={`view ${view}`} tabIndex={-1} ref={main}>
        {props.children}
      </main>
    </div>
  );
};
