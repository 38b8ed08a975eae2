import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import {
  CLASS_ID,
  type ClassList,
  type EnteredNames,
  enteredNames,
  enteredWords,
  MOST_NAME_LETTERS,
  MOST_PUPILS,
  sameName,
  withGroup,
  withoutPupil,
} from '../../core/library/classList.ts';
import { makeCodeNames } from '../../core/library/codeNames.ts';
import { useApp } from '../desk/appContext.ts';
import { chooseClass } from '../desk/commands/classes.ts';
import { complain, tell } from '../desk/commands/messages.ts';
import { showWindow } from '../desk/commands/settings.ts';
import { newId } from '../desk/newId.ts';
import { printKeySheet } from './keep/keySheet.ts';
import { KeyWords } from './parts/keyWords.tsx';
import { SentenceChoice, SentenceNumber } from './parts/sentence.tsx';
import { useShownWindow } from './parts/shownWindow.ts';

const LARGEST_CLASS = 40;

/** Names typed, pasted or made, then one press. */
const Entering = (props: {
  list: ClassList;
  onEntered: (entered: EnteredNames) => void;
}): ComponentChildren => {
  const { list } = props;
  const [text, setText] = useState('');
  const [count, setCount] = useState(30);
  const entered = enteredNames(text, list.pupils);
  return (
    <div class="class-entering">
      <label>
        Type or paste code names, one a line or with commas.
        <textarea
          rows={8}
          value={text}
          spellcheck={false}
          onInput={event => {
            setText(event.currentTarget.value);
          }}
        />
      </label>
      <p class="quiet" role="status">
        {text.trim() === '' ? 'What comes twice or is empty will be told here.' : enteredWords(entered)}
      </p>
      <button
        class="main-action small"
        disabled={entered.names.length === 0}
        onClick={() => {
          props.onEntered(entered);
          setText('');
        }}
      >
        Put them on the list
      </button>
      <p class="sentence-line">
        <SentenceNumber
          before="Or have"
          after="friendly names made:"
          value={count}
          least={1}
          most={LARGEST_CLASS}
          onChoose={setCount}
        />
        <button
          class="second"
          disabled={list.pupils.length >= MOST_PUPILS}
          onClick={() => {
            const [seed = 0] = crypto.getRandomValues(new Uint32Array(1));
            setText(makeCodeNames(count, seed, list.pupils).join('\n'));
          }}
        >
          Make {count} names
        </button>
      </p>
    </div>
  );
};

/** Everybody on the list, and the groups that share a piece. */
const Listed = (props: { list: ClassList; onChange: (list: ClassList) => void }): ComponentChildren => {
  const { desk } = useApp();
  const { list, onChange } = props;
  const [chosen, setChosen] = useState<readonly string[]>([]);
  return (
    <div class="class-listed">
      <h3>
        {list.pupils.length} {list.pupils.length === 1 ? 'pupil' : 'pupils'}
      </h3>
      <ul class="class-pupils" aria-label="Pupils">
        {list.pupils.map(codeName => (
          <li key={codeName}>
            <label>
              <input
                type="checkbox"
                checked={chosen.includes(codeName)}
                onChange={() => {
                  setChosen(
                    chosen.includes(codeName)
                      ? chosen.filter(one => one !== codeName)
                      : [...chosen, codeName],
                  );
                }}
              />
              {codeName}
            </label>
            <button
              class="plain"
              aria-label={`Take ${codeName} off the list`}
              title="The pieces stay in the register"
              onClick={() => {
                setChosen(chosen.filter(one => one !== codeName));
                onChange(withoutPupil(list, codeName));
              }}
            >
              take off
            </button>
          </li>
        ))}
      </ul>
      <button
        class="second"
        disabled={chosen.length < 2}
        onClick={() => {
          const made = withGroup(list, chosen);
          if (made.ok) {
            onChange(made.value);
            setChosen([]);
          } else desk.run(complain, made.problem);
        }}
      >
        {chosen.length < 2
          ? 'Tick two or more who share a piece'
          : `Make a group of ${String(chosen.length)}`}
      </button>
      {list.groups.length === 0 ? null : (
        <ul class="class-groups" aria-label="Groups">
          {list.groups.map(group => (
            <li key={group.name}>
              <span>{group.name}</span>
              <button
                class="plain"
                aria-label={`Part the group ${group.name}`}
                onClick={() => {
                  onChange({ ...list, groups: list.groups.filter(one => one !== group) });
                }}
              >
                part
              </button>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
};

/** The class lists: entered once, kept in the class library. */
export const Classes = (): ComponentChildren => {
  const { desk, keeper } = useApp();
  const dialog = useShownWindow();
  const [name, setName] = useState('');
  const lists = desk.classes.value;
  const list = desk.classNow.value ?? lists.find(one => one.name === desk.className.value);
  const isTaken = lists.some(one => sameName(one.name) === sameName(name));
  const keep = (changed: ClassList): void => void keeper.keepClass(changed);
  return (
    <dialog
      ref={dialog}
      class="card classes"
      aria-labelledby="classes-title"
      onClose={() => {
        desk.run(showWindow, undefined);
      }}
    >
      <div class="classes-head">
        <h2 id="classes-title">Class list</h2>
        {lists.length === 0 ? null : (
          <SentenceChoice
            before="of"
            value={list?.name ?? ''}
            choices={[
              ...(list === undefined ? [{ value: '', text: 'which class?' }] : []),
              ...lists.map(one => ({ value: one.name, text: one.name })),
            ]}
            onChoose={chosen => {
              desk.run(chooseClass, chosen);
            }}
          />
        )}
        <form
          class="class-new"
          onSubmit={event => {
            event.preventDefault();
            const called = name.replace(/\s+/g, ' ').trim();
            if (called === '' || isTaken) return;
            desk.run(chooseClass, called);
            keep({ id: `${CLASS_ID}${newId()}`, name: called, pupils: [], groups: [] });
            setName('');
          }}
        >
          <label>
            {lists.length === 0 ? 'The class is called' : 'Another class, called'}{' '}
            <input
              class="field"
              maxLength={MOST_NAME_LETTERS}
              value={name}
              onInput={event => {
                setName(event.currentTarget.value);
              }}
            />
          </label>
          <button class="second" disabled={name.trim() === '' || isTaken}>
            {isTaken && name.trim() !== '' ? 'There is one' : 'Make the list'}
          </button>
        </form>
      </div>
      <p class="quiet">
        Code names only, never real ones: the list lies beside the pieces in a folder that others may open,
        and a pupil’s work under a real name would be personal data there. Who is who stays on your paper.
      </p>
      {list === undefined ? null : (
        <p class="sentences small">
          <KeyWords
            before="The class works in"
            any="any key"
            value={list.key}
            onChoose={chosen => {
              const { key: _, ...rest } = list;
              keep(chosen === undefined ? rest : { ...rest, key: chosen });
            }}
          />
        </p>
      )}
      {list === undefined ? null : (
        <div class="classes-columns">
          <Entering
            key={list.id}
            list={list}
            onEntered={entered => {
              keep({ ...list, pupils: [...list.pupils, ...entered.names] });
              desk.run(tell, enteredWords(entered));
            }}
          />
          <Listed key={`${list.id} listed`} list={list} onChange={keep} />
        </div>
      )}
      <div class="dialog-foot">
        <button
          class="second"
          disabled={list === undefined || list.pupils.length === 0}
          onClick={() => {
            if (list !== undefined) printKeySheet(list);
          }}
        >
          Print the key sheet
        </button>
        <span class="quiet">Code names with an empty line each, to fill in by hand.</span>
        <span class="grow-space" />
        <form method="dialog">
          <button class="second">Close</button>
        </form>
      </div>
    </dialog>
  );
};
