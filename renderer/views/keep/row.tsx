import type { ComponentChildren } from 'preact';
import { useMemo } from 'preact/hooks';
import type { RegisterRow, RowState } from '../../../core/library/register.ts';
import { NOT_YET_GIVEN, pieceInWords } from '../../../core/piece/pupil.ts';
import { openingOf } from '../../../core/piece/piece.ts';
import { scoreToHandOn } from '../../desk/acts/handOn.ts';
import { useApp } from '../../desk/appContext.ts';
import { choosePupil } from '../../desk/commands/pupils.ts';
import { goTo, lookAt } from '../../desk/commands/settings.ts';
import { Incipit } from '../parts/incipit.tsx';
import { HandOn } from './handOn.tsx';
import { usePiece } from './usePiece.ts';

/** When, as the register says it. */
export const when = (iso: string): string => {
  const at = new Date(iso);
  return iso === '' || Number.isNaN(at.getTime())
    ? 'a moment ago'
    : at.toLocaleString('en-GB', { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });
};

const WORDS: Readonly<Record<RowState, string>> = {
  nothing: 'nothing yet',
  draft: 'draft,',
  kept: 'kept',
  rivals: 'two versions',
  away: 'put away',
};

/** Told apart by shape: ticked disc, half disc, diamond, dashed ring, square. */
const Mark = (props: { state: RowState }): ComponentChildren => (
  <svg class={`state-mark ${props.state}`} viewBox="0 0 16 16" aria-hidden="true">
    {props.state === 'kept' ? (
      <>
        <circle cx="8" cy="8" r="7" />
        <path d="M4.6 8.3 7 10.7 11.4 5.6" />
      </>
    ) : props.state === 'draft' ? (
      <>
        <circle class="hollow" cx="8" cy="8" r="6" />
        <path class="half" d="M8 2a6 6 0 0 0 0 12z" />
      </>
    ) : props.state === 'rivals' ? (
      <path class="half" d="M8 1 15 8 8 15 1 8z" />
    ) : props.state === 'away' ? (
      <path class="hollow" d="M2 4h12v9H2zM2 7h12" />
    ) : (
      <circle class="hollow dashed" cx="8" cy="8" r="6" />
    )}
  </svg>
);

/** One line: press it to open. */
export const Row = (props: {
  row: RegisterRow;
  index: number;
  /** Whether the lines are of several classes. */
  showsClass: boolean;
}): ComponentChildren => {
  const { desk, listening, keeper } = useApp();
  const { row } = props;
  const { facts, entry, codeName, className } = row;
  const piece = usePiece(row);
  const score = useMemo(() => (piece === undefined ? undefined : openingOf(piece, 2)), [piece]);
  const isHeard = desk.hearing.value?.of === row.id;
  const open = (): void => {
    if (facts === undefined) desk.run(choosePupil, { codeName, className });
    else if (row.isOpen) desk.run(goTo, facts.grown ? 'grow' : 'write');
    else if (entry !== undefined) void keeper.open(entry);
  };
  const grown = facts === undefined ? '' : facts.treatments.join(', ') || 'nothing added';
  const opens = facts === undefined ? `Play for ${codeName}` : `Open ${pieceInWords(facts)}`;
  return (
    <tr class={row.isOpen ? 'open' : ''} aria-rowindex={props.index + 2} onClick={open}>
      <th scope="row">
        <button
          class="row-open"
          aria-label={opens}
          onClick={event => {
            event.stopPropagation();
            open();
          }}
        >
          {codeName === '' ? <i>{NOT_YET_GIVEN}</i> : codeName}
          {props.showsClass && className !== '' ? <span class="of-class">{className}</span> : null}
        </button>
      </th>
      <td title={facts?.title}>{facts?.title}</td>
      <td>
        {score === undefined || piece === undefined ? null : (
          <Incipit score={score} bars={2} label={`How ${piece.title} begins`} scale={0.5} />
        )}
      </td>
      <td class={grown === 'nothing added' ? 'quiet' : ''} title={grown}>
        {grown}
      </td>
      <td>
        <span class={`row-state ${row.state}`}>
          <Mark state={row.state} />
          <span>
            {row.state === 'rivals' && (entry?.rivals.length ?? 0) > 1
              ? `${String((entry?.rivals.length ?? 0) + 1)} versions`
              : WORDS[row.state]}
            {row.state === 'draft' || row.state === 'kept' ? ` ${when(row.at)}` : ''}
            {facts?.hasFeedback === true ? <span class="with-feedback">with feedback</span> : null}
          </span>
          {row.state === 'rivals' && entry !== undefined ? (
            <button
              class="tool"
              aria-label={`Settle ${facts === undefined ? '' : pieceInWords(facts)}`}
              onClick={event => {
                event.stopPropagation();
                desk.run(lookAt, entry.id);
              }}
            >
              Settle
            </button>
          ) : null}
        </span>
      </td>
      {facts === undefined ? (
        <td colSpan={3}>
          <span class="tool play-for" aria-hidden="true">
            Play for {codeName}
          </span>
        </td>
      ) : (
        <>
          <td>
            <button
              class="hear-row-button"
              aria-label={`${isHeard ? 'Stop' : 'Hear'} ${pieceInWords(facts)}`}
              aria-pressed={isHeard}
              onClick={event => {
                event.stopPropagation();
                if (isHeard) listening.stop();
                else if (piece !== undefined) listening.score('piece', scoreToHandOn(piece), { of: row.id });
              }}
            >
              <svg viewBox="0 0 16 16" aria-hidden="true">
                <path d={isHeard ? 'M3 3h10v10H3z' : 'M4 2 14 8 4 14z'} />
              </svg>
            </button>
          </td>
          <td>
            <HandOn row={row} facts={facts} />
          </td>
          <td class="chevron" aria-hidden="true">
            ›
          </td>
        </>
      )}
    </tr>
  );
};
