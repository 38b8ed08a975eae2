import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { RegisterRow, SortBy } from '../../../core/library/register.ts';
import { Row } from './row.tsx';

/** Height of a line in px, as the style has it. */
export const ROW_HEIGHT = 52;
/** Lines drawn beyond what is seen, above and below: enough that Tab and the arrow keys find the next. */
const BEYOND = 6;

/** The columns in order; how wide each is says the style of its class. */
const COLUMNS: readonly { readonly head: string; readonly by?: SortBy; readonly is: string }[] = [
  { head: 'code name', by: 'pupil', is: 'who' },
  { head: 'idea', by: 'idea', is: 'idea' },
  { head: 'begins', is: 'begins' },
  { head: 'grown with', by: 'grown', is: 'grown' },
  { head: 'state', by: 'state', is: 'state' },
  { head: 'hear', is: 'hear' },
  { head: 'hand on', is: 'hand-on' },
  { head: '', is: 'opens' },
];

/** The register: fixed columns; of a long one only the lines in sight are drawn. */
export const Register = (props: {
  rows: readonly RegisterRow[];
  /** Undefined where the lines stand in another order, as by likeness. */
  sort: { by: SortBy; fromTheEnd: boolean } | undefined;
  /** Whether the lines are of several classes. */
  showsClass: boolean;
  onSort: (by: SortBy) => void;
}): ComponentChildren => {
  const { rows, sort } = props;
  const sheet = useRef<HTMLElement>(null);
  const [seen, setSeen] = useState({ from: 0, to: 30 });
  const look = (): void => {
    const box = sheet.current;
    if (box === null) return;
    const from = Math.max(0, Math.floor(box.scrollTop / ROW_HEIGHT) - BEYOND);
    const to = Math.ceil((box.scrollTop + box.clientHeight) / ROW_HEIGHT) + BEYOND;
    if (from !== seen.from || to !== seen.to) setSeen({ from, to });
  };
  useEffect(() => {
    look();
    window.addEventListener('resize', look);
    return () => {
      window.removeEventListener('resize', look);
    };
  });
  const from = Math.min(seen.from, Math.max(0, rows.length - 1));
  const shown = rows.slice(from, seen.to);
  const below = Math.max(0, rows.length - from - shown.length);
  const space = (count: number): ComponentChildren =>
    count === 0 ? null : (
      <tr class="register-space" aria-hidden="true" style={{ height: `${String(count * ROW_HEIGHT)}px` }}>
        <td />
      </tr>
    );
  return (
    <section
      class="sheet register-sheet"
      aria-label="Class register"
      tabIndex={0}
      ref={sheet}
      onScroll={look}
    >
      <table class="register" aria-rowcount={rows.length + 1}>
        <colgroup>
          {COLUMNS.map(({ is }) => (
            <col key={is} class={`column-${is}`} />
          ))}
        </colgroup>
        <thead>
          <tr>
            {COLUMNS.map(({ head, by }) =>
              by === undefined ? (
                head === '' ? (
                  <td key={head} />
                ) : (
                  <th key={head} scope="col">
                    {head}
                  </th>
                )
              ) : (
                <th
                  key={head}
                  scope="col"
                  aria-sort={sort?.by !== by ? 'none' : sort.fromTheEnd ? 'descending' : 'ascending'}
                >
                  <button
                    class="sort"
                    onClick={() => {
                      props.onSort(by);
                    }}
                  >
                    {head}
                    <span aria-hidden="true">{sort?.by !== by ? ' ↕' : sort.fromTheEnd ? ' ▼' : ' ▲'}</span>
                  </button>
                </th>
              ),
            )}
          </tr>
        </thead>
        <tbody>
          {space(from)}
          {shown.map((row, i) => (
            <Row key={row.id} row={row} index={from + i} showsClass={props.showsClass} />
          ))}
          {space(below)}
        </tbody>
      </table>
    </section>
  );
};
