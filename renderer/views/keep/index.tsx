import type { ComponentChildren } from 'preact';
import { useEffect, useMemo, useState } from 'preact/hooks';
import { say } from '../../../core/foundation/result.ts';
import { rowsLike } from '../../../core/library/likeness.ts';
import {
  filteredRows,
  keptCount,
  NO_FILTER,
  type RegisterFilter,
  type SortBy,
  sortedRows,
} from '../../../core/library/register.ts';
import { useApp } from '../../desk/appContext.ts';
import { leaveAlike } from '../../desk/commands/alike.ts';
import { chooseClass } from '../../desk/commands/classes.ts';
import { showWindow } from '../../desk/commands/settings.ts';
import { Foot } from '../foot.tsx';
import { KeepVersion } from '../pieceSentence.tsx';
import { scoreToHandOn } from '../../desk/acts/handOn.ts';
import { Alike } from './alike.tsx';
import { AllOfThese } from './allOfThese.tsx';
import { LibraryPlace } from './libraryPlace.tsx';
import { PaperChoice } from './paperChoice.tsx';
import { Register } from './registerTable.tsx';
import { Showing } from './showing.tsx';
import { TakeAlong } from './takeAlong.tsx';

/** Keep: the class register, and the one press that keeps a version of what is open. */
export const Keep = (props: { onOpenFile: () => void }): ComponentChildren => {
  const { desk, keeper, listening } = useApp();
  const piece = desk.piece.value;
  const library = desk.library.value;
  const rows = desk.rows.value;
  const classes = desk.classes.value;
  const [asked, setAsked] = useState<Omit<RegisterFilter, 'className'>>(NO_FILTER);
  const [sort, setSort] = useState<{ by: SortBy; fromTheEnd: boolean }>({ by: 'pupil', fromTheEnd: false });
  useEffect(() => {
    void keeper.refresh();
  }, []);
  const className = desk.className.value;
  const alike = desk.alike.value;
  const names = [...new Set([...classes.map(list => list.name), ...rows.map(row => row.className)])]
    .filter(name => name !== '')
    .sort();
  const mine = useMemo(() => filteredRows(rows, { ...NO_FILTER, className }), [rows, className]);
  const shown = useMemo(
    () =>
      alike === undefined
        ? sortedRows(filteredRows(rows, { ...asked, className }), sort.by, sort.fromTheEnd)
        : rowsLike(sortedRows(mine, 'pupil', false), alike.outline, alike.by),
    [rows, asked, className, sort, alike, mine],
  );
  const count = keptCount(
    rows,
    classes.filter(list => className === '' || list.name === className),
  );
  return (
    <>
      <div class="band">
        <select
          class="pupil-word"
          aria-label={`Class: ${className === '' ? 'every class' : className}`}
          value={className}
          onChange={event => {
            desk.run(chooseClass, event.currentTarget.value);
          }}
        >
          {['', ...names].map(name => (
            <option key={name} value={name} selected={name === className}>
              {name === '' ? 'Every class' : name}
            </option>
          ))}
        </select>
        <b>
          {count.of === 0
            ? `${String(mine.length)} ${mine.length === 1 ? 'piece' : 'pieces'}`
            : `${String(count.kept)} of ${String(count.of)} have kept something`}
        </b>
        {alike === undefined ? (
          <Showing rows={rows} asked={asked} onAsk={setAsked} />
        ) : (
          <Alike asked={alike} />
        )}
        <span class="grow-space" />
        <button
          class="second"
          onClick={() => {
            desk.run(showWindow, 'classes');
          }}
        >
          Class list
        </button>
      </div>
      <TakeAlong />
      {library.damaged.map((problem, i) => (
        <div class="problem" key={i}>
          <span aria-hidden="true">△</span>
          <p>{say(problem)}</p>
        </div>
      ))}
      {shown.length === 0 ? (
        <section class="sheet register-sheet" aria-label="Class register">
          <p class="register-empty quiet">
            {library.state === 'opening'
              ? 'Opening the class library…'
              : rows.length > 0
                ? 'Nothing here is like that.'
                : 'Nothing is kept yet. Enter the class list, or catch an idea in Play.'}
          </p>
        </section>
      ) : (
        <Register
          rows={shown}
          sort={alike === undefined ? sort : undefined}
          showsClass={className === ''}
          onSort={by => {
            setSort({ by, fromTheEnd: alike === undefined && sort.by === by && !sort.fromTheEnd });
            // The likest no longer come first: what is asked for is every line in that order.
            if (alike !== undefined) desk.run(leaveAlike);
          }}
        />
      )}
      <div class="keep-lines">
        <AllOfThese rows={shown} className={className} />
        <span class="sentences small" role="group" aria-label="On paper">
          <span class="quiet">On paper:</span>
          <PaperChoice />
        </span>
      </div>
      <Foot
        hear={
          piece === undefined
            ? undefined
            : () => {
                listening.score('piece', scoreToHandOn(piece));
              }
        }
        action={<KeepVersion class="main-action" />}
      >
        <LibraryPlace onOpenFile={props.onOpenFile} />
      </Foot>
    </>
  );
};
