import type { ComponentChildren } from 'preact';
import { useRef, useState } from 'preact/hooks';
import { enteredNames, sameName, withPupils } from '../../../core/library/classList.ts';
import { isSamePupil, type Pupil } from '../../../core/piece/pupil.ts';
import { useApp } from '../../desk/appContext.ts';
import { showWindow } from '../../desk/commands/settings.ts';
import { Drop } from './drop.tsx';

interface Choice {
  readonly pupil: Pupil | undefined;
  readonly text: string;
  readonly note: string;
}

const NOTES = { nothing: 'nothing yet', draft: 'draft', kept: 'kept', rivals: 'two versions' } as const;

/** Type to find, arrow keys and Enter, or a touch. */
export const PupilList = (props: {
  heading: string;
  onChoose: (pupil: Pupil | undefined) => void;
  offersNobody: boolean;
  children?: ComponentChildren;
}): ComponentChildren => {
  const { desk, keeper } = useApp();
  const [asked, setAsked] = useState('');
  const [at, setAt] = useState(0);
  const list = useRef<HTMLUListElement>(null);
  const here = desk.classNow.value;
  const lists = here === undefined ? desk.classes.value : [here];
  const noteOf = ({ codeName, className }: Pupil): string => {
    const states = desk.rows.value
      .filter(row => row.className === className && row.codeName === codeName)
      .map(row => row.state);
    const found = (['rivals', 'kept', 'draft', 'nothing'] as const).find(state => states.includes(state));
    return found === undefined ? '' : NOTES[found];
  };
  const wanted = sameName(asked);
  const all: Choice[] = lists.flatMap(({ name, pupils, groups }) =>
    [...pupils, ...groups.map(group => group.name)].map(codeName => {
      const pupil = { codeName, className: name };
      const note = here === undefined ? name : noteOf(pupil);
      return { pupil, text: codeName, note };
    }),
  );
  const found = all.filter(choice => sameName(choice.text).includes(wanted));
  const nobody: Choice = { pupil: undefined, text: 'nobody yet', note: '' };
  const [typed] = enteredNames(asked).names;
  const isNew = typed !== undefined && !all.some(choice => sameName(choice.text) === sameName(typed));
  const added: Choice | undefined = !isNew
    ? undefined
    : {
        pupil: { codeName: typed, className: here?.name ?? '' },
        text: typed,
        note: here === undefined ? 'in no class' : `put on the list of ${here.name}`,
      };
  const choices: readonly Choice[] = [
    ...found,
    ...(added === undefined ? [] : [added]),
    ...(props.offersNobody && asked === '' ? [nobody] : []),
  ];
  const active = Math.min(at, choices.length - 1);
  const choose = (choice: Choice | undefined): void => {
    if (choice === undefined) return;
    if (choice === added && here !== undefined) void keeper.keepClass(withPupils(here, [choice.text]));
    props.onChoose(choice.pupil);
  };
  const goTo = (next: number): void => {
    const to = (next + choices.length) % Math.max(1, choices.length);
    setAt(to);
    list.current?.children[to]?.scrollIntoView({ block: 'nearest' });
  };
  return (
    <>
      <label class="chooser-find">
        {props.heading}
        <input
          role="combobox"
          aria-expanded="true"
          aria-controls="chooser-list"
          aria-autocomplete="list"
          aria-label="Code name"
          {...(active < 0 ? {} : { 'aria-activedescendant': `chooser-${String(active)}` })}
          autocomplete="off"
          spellcheck={false}
          placeholder="type to find"
          value={asked}
          onInput={event => {
            setAsked(event.currentTarget.value);
            setAt(0);
          }}
          onKeyDown={event => {
            if (event.key === 'ArrowDown') goTo(active + 1);
            else if (event.key === 'ArrowUp') goTo(active - 1);
            else if (event.key === 'Enter') choose(choices[active]);
            else return;
            event.preventDefault();
          }}
        />
      </label>
      <ul class="chooser-list" id="chooser-list" role="listbox" aria-label="Pupils" ref={list}>
        {choices.map((choice, i) => (
          <li
            key={`${choice.pupil?.className ?? ''} ${choice.text}`}
            id={`chooser-${String(i)}`}
            role="option"
            aria-selected={i === active}
            class={isSamePupil(choice.pupil, desk.pupil.value) ? 'now' : ''}
            onClick={() => {
              choose(choice);
            }}
          >
            <b>{choice.text}</b>
            <span class="quiet">{choice.note}</span>
          </li>
        ))}
      </ul>
      {lists.length === 0 && asked === '' ? (
        <p class="quiet chooser-hint">
          There is no class list yet. Type a code name, or enter the class once.
        </p>
      ) : null}
      <div class="chooser-foot">
        {props.children}
        <button
          class="plain word"
          onClick={() => {
            desk.run(showWindow, 'classes');
          }}
        >
          Class list
        </button>
      </div>
    </>
  );
};

/** A word that chooses a pupil. */
export const PupilChooser = (props: {
  class: string;
  text: ComponentChildren;
  label?: string;
  heading: string;
  offersNobody?: boolean;
  onChoose: (pupil: Pupil | undefined) => void;
  children?: (close: () => void) => ComponentChildren;
}): ComponentChildren => (
  <Drop
    class={props.class}
    text={props.text}
    panelLabel={props.heading}
    panelClass="chooser"
    {...(props.label === undefined ? {} : { label: props.label })}
  >
    {close => (
      <PupilList
        heading={props.heading}
        offersNobody={props.offersNobody === true}
        onChoose={pupil => {
          close();
          props.onChoose(pupil);
        }}
      >
        {props.children?.(close)}
      </PupilList>
    )}
  </Drop>
);
