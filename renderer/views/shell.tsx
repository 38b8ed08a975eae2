import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { say } from '../../core/foundation/result.ts';
import { notice, piece, type Place, place, problem, pupil, work } from '../store/app.ts';
import { redoStep, step, undoStep } from '../store/change.ts';

const PLACES: readonly { readonly id: Place; readonly text: string }[] = [
  { id: 'play', text: 'Play' },
  { id: 'write', text: 'Write' },
  { id: 'grow', text: 'Grow' },
  { id: 'keep', text: 'Keep' },
];

const Places = (): ComponentChildren => (
  <nav aria-label="Places">
    <ol class="places">
      {PLACES.map(({ id, text }) => {
        const empty = (id === 'write' || id === 'grow') && piece.value === undefined;
        return (
          <li key={id}>
            <button
              class="place"
              aria-current={place.value === id ? 'page' : undefined}
              disabled={empty}
              title={empty ? 'Catch an idea first' : undefined}
              onClick={() => {
                place.value = id;
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

const Who = (): ComponentChildren => {
  const [open, setOpen] = useState(false);
  const { codeName, className } = pupil.value;
  const now = piece.value;
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
            const next = { codeName: text('code', codeName), className: text('class', className) };
            pupil.value = next;
            if (now !== undefined) {
              const title = text('title', now.title);
              if (title !== now.title || next.codeName !== now.codeName || next.className !== now.className) {
                step(`name it ${title}`, old => ({ ...old, ...next, title }));
              }
            }
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
  const last = work.value?.past.at(-1);
  const next = work.value?.future[0];
  return (
    <div class="history">
      <button class="plain" disabled={last === undefined} onClick={undoStep} title="Ctrl+Z">
        {last === undefined ? 'Undo' : `Undo: ${last.name}`}
      </button>
      <button class="plain" disabled={next === undefined} onClick={redoStep} title="Ctrl+Shift+Z">
        {next === undefined ? 'Redo' : `Redo: ${next.name}`}
      </button>
    </div>
  );
};

const Messages = (): ComponentChildren => (
  <>
    <div class="messages" role="alert">
      {problem.value === undefined ? null : (
        <div class="problem">
          <span aria-hidden="true">△</span>
          <p>{say(problem.value)}</p>
          <button
            class="plain"
            onClick={() => {
              problem.value = undefined;
            }}
          >
            All right
          </button>
        </div>
      )}
    </div>
    <p class="unseen" role="status">
      {notice.value}
    </p>
  </>
);

/** The frame every place stands in. */
export const Shell = (props: { children: ComponentChildren; onKeys: () => void }): ComponentChildren => (
  <div class="shell">
    <header>
      <h1 class="name">Malletloom</h1>
      <Places />
      {work.value === undefined ? null : <History />}
      <button class="plain keys-button" onClick={props.onKeys} aria-label="All keys" title="All keys (?)">
        ?
      </button>
      <Who />
    </header>
    <Messages />
    <main class={`view ${place.value}`}>{props.children}</main>
  </div>
);
