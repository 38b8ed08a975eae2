import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { say } from '../../core/foundation/result.ts';
import { nameOfPupil, pupilOf } from '../../core/piece/pupil.ts';
import { useApp } from '../desk/appContext.ts';
import { dismissProblem } from '../desk/commands/messages.ts';
import { nameIt } from '../desk/commands/open.ts';
import { choosePupil, giveTo, nextPupil } from '../desk/commands/pupils.ts';
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

const text = (form: HTMLFormElement, name: string): string => {
  const value = new FormData(form).get(name);
  return typeof value === 'string' ? value.trim().slice(0, 40) : '';
};

const Who = (): ComponentChildren => {
  const { desk } = useApp();
  const [open, setOpen] = useState(false);
  const pupil = desk.pupil.value;
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
            playing: <b>{pupil === undefined ? 'nobody yet' : pupil.codeName}</b>
          </>
        ) : (
          <>
            {nameOfPupil(pupilOf(now))}: <b>{now.title}</b>
          </>
        )}
      </button>
      {open ? (
        <div class="card who-form">
          {now === undefined ? null : (
            <form
              onSubmit={event => {
                event.preventDefault();
                desk.run(nameIt, text(event.currentTarget, 'title') || now.title);
                setOpen(false);
              }}
            >
              <label>
                Title <input name="title" defaultValue={now.title} maxLength={40} />
              </label>
            </form>
          )}
          <form
            onSubmit={event => {
              event.preventDefault();
              const codeName = text(event.currentTarget, 'code');
              const next =
                codeName === '' ? undefined : { codeName, className: text(event.currentTarget, 'class') };
              const gives = (event.submitter as HTMLButtonElement | null)?.value === 'give';
              desk.run(gives ? giveTo : choosePupil, next);
              setOpen(false);
            }}
          >
            <label>
              Code name <input name="code" defaultValue={pupil?.codeName ?? ''} maxLength={40} />
            </label>
            <label>
              Class <input name="class" defaultValue={pupil?.className ?? ''} maxLength={40} />
            </label>
            <p class="quiet">A code name, please, never a real name.</p>
            <button class="second">Play now</button>
            {now === undefined ? null : (
              <button class="second" value="give">
                Give {now.title} to this pupil
              </button>
            )}
          </form>
        </div>
      ) : null}
    </div>
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
        <Next />
      </header>
      <Messages />
      <main class={`view ${desk.view.value}`}>{props.children}</main>
    </div>
  );
};
