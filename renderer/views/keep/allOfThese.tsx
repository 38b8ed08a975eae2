import type { ComponentChildren } from 'preact';
import type { RegisterRow } from '../../../core/library/register.ts';
import { plainName } from '../../desk/acts/handOn.ts';
import { useApp } from '../../desk/appContext.ts';
import { Drop } from '../parts/drop.tsx';

/** What can be done with all lines that are shown: one file, or one press of Print, for a whole class. */
export const AllOfThese = (props: { rows: readonly RegisterRow[]; className: string }): ComponentChildren => {
  const { desk, classPaper, carrying } = useApp();
  const { work } = desk;
  const pieces = props.rows.filter(row => row.facts !== undefined);
  if (work.value?.isPaper === true)
    return (
      <span class="at-work">
        <span role="status">{work.value.text}</span>
        <button class="second" onClick={classPaper.stop}>
          Stop making it
        </button>
      </span>
    );
  if (pieces.length < 2) return null;
  const all = `all ${String(pieces.length)}`;
  return (
    <Drop
      class="second hand-on-all"
      text={
        <>
          <span>Hand on {all}</span>
          <span class="caret ink" aria-hidden="true" />
        </>
      }
      panelLabel={`Hand on ${all}`}
      panelClass="menu"
      menu
    >
      {close => (
        <>
          <button
            class="menu-item"
            onClick={() => {
              close();
              void classPaper.print(pieces);
            }}
          >
            Print {all}
          </button>
          <button
            class="menu-item"
            onClick={() => {
              close();
              void classPaper.pdf(pieces, plainName(props.className, 'Class-library'));
            }}
          >
            One PDF of {all}
          </button>
          <button
            class="menu-item"
            onClick={() => {
              close();
              void carrying.make(pieces, props.className === '' ? 'Class library' : props.className);
            }}
          >
            Portable file of {all}
          </button>
        </>
      )}
    </Drop>
  );
};
