import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { say } from '../../core/foundation/result.ts';
import { useApp } from '../desk/appContext.ts';
import { dismissProblem } from '../desk/commands/messages.ts';
import { nameIt } from '../desk/commands/open.ts';
import { goTo, showWindow } from '../desk/commands/settings.ts';
import { redoStep, undoStep } from '../desk/commands/step.ts';
import type { View } from '../desk/session.ts';

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

const Who = (): ComponentChildren => {
  const { desk } = useApp();
  const [open, setOpen] = useState(false);
  const { codeName, className } = desk.pupil.value;
  const now = desk.piece.value;
  return (
    <div class="who">
      <button
        class="plain"
        aria-expanded={open}
        onClick={() => {
          setOpen(!open);
        }}
      >
        {now === undefined ? (
          <>
            playing as <b>{codeName}</b>, class {className}
          </>
        ) : (
          <>
            {now.codeName}: <b>{now.title}</b>
          </>
        )}
      </button>
      {open ? (
        <form
          class="card who-form"
          onSubmit={event => {
            event.preventDefault();
            const data = new FormData(event.currentTarget);
            const text = (name: string, fallback: string): string => {
              const value = data.get(name);
              return typeof value === 'string' && value.trim() !== '' ? value.trim().slice(0, 40) : fallback;
            };
            desk.run(nameIt, {
              title: text('title', now?.title ?? ''),
              codeName: text('code', codeName),
              className: text('class', className),
            });
            setOpen(false);
          }}
        >
          {now === undefined ? null : (
            <label>
              Title <input name="title" defaultValue={now.title} maxLength={40} />
            </label>
          )}
          <label>
            Code name <input name="code" defaultValue={now?.codeName ?? codeName} maxLength={40} />
          </label>
          <label>
            Class <input name="class" defaultValue={now?.className ?? className} maxLength={40} />
          </label>
          <p class="quiet">A code name, please, never a real name.</p>
          <button class="second">Use these</button>
        </form>
      ) : null}
    </div>
  );
};

const History = (): ComponentChildren => {
  const { desk, asking } = useApp();
  const last = desk.history.value?.past.at(-1);
  const next = desk.history.value?.future[0];
  return (
    <div class="history">
      <button
        class="plain"
        disabled={last === undefined}
        onClick={() => {
          asking.afterwards(undoStep);
        }}
        title="Ctrl+Z"
      >
        {last === undefined ? 'Undo' : `Undo: ${last.name}`}
      </button>
      <button
        class="plain"
        disabled={next === undefined}
        onClick={() => {
          asking.afterwards(redoStep);
        }}
        title="Ctrl+Shift+Z"
      >
        {next === undefined ? 'Redo' : `Redo: ${next.name}`}
      </button>
    </div>
  );
};

const Messages = (): ComponentChildren => {
  const { desk } = useApp();
  return (
    <>
      <div class="messages" role="alert">
        {desk.problem.value === undefined ? null : (
          <div class="problem">
            <span aria-hidden="true">△</span>
            <p>{say(desk.problem.value)}</p>
            <button
              class="plain"
              onClick={() => {
                desk.run(dismissProblem);
              }}
            >
              All right
            </button>
          </div>
        )}
      </div>
      <p class="unseen" role="status">
        {desk.notice.value}
      </p>
    </>
  );
};

/** Whether everything done here is on disk by itself. */
const SafeSign = (): ComponentChildren => {
  const { desk } = useApp();
  const safe = desk.safe.value;
  if (safe === undefined) return null;
  return safe !== 'unsafe' ? (
    <span class={`safe-sign ${safe}`} title="Everything done here is kept by itself">
      <span aria-hidden="true">{safe === 'safe' ? '✓ ' : '… '}</span>safe
    </span>
  ) : (
    <span class="safe-sign unsafe" title="The disk takes nothing more">
      <span aria-hidden="true">△ </span>not safe
    </span>
  );
};

/** The frame every place stands in. */
export const Shell = (props: { children: ComponentChildren }): ComponentChildren => {
  const { desk } = useApp();
  return (
    <div class="shell">
      <header>
        <h1 class="name">Malletloom</h1>
        <Views />
        {desk.history.value === undefined ? null : <History />}
        <button
          class="plain keys-button"
          onClick={() => {
            desk.run(showWindow, 'keys');
          }}
          aria-label="All keys"
          title="All keys (?)"
        >
          ?
        </button>
        <SafeSign />
        <Who />
      </header>
      <Messages />
      <main class={`view ${desk.view.value}`}>{props.children}</main>
    </div>
  );
};
