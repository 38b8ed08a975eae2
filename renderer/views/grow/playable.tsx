import './playable.css';
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { Motif } from '../../../core/motif/motif.ts';
import { statementName } from '../../../core/plan/naming.ts';
import { afterThe, partName } from '../../../core/plan/partList.ts';
import { barringIn } from '../../../core/plan/keys.ts';
import { findStatement, type Plan } from '../../../core/plan/plan.ts';
import { handsByBar, type PartCheck, type RangeProblem } from '../../../core/playable/check.ts';
import { chooseSet, setsFor } from '../../../core/playable/musicRoom.ts';
import {
  heardWords,
  lackWords,
  barAndBeatWords,
  remedyWords,
  stickingLines,
  warningWords,
} from '../../../core/playable/words.ts';
import { useApp } from '../../desk/appContext.ts';
import { changeRoom, mend } from '../../desk/commands/room.ts';
import { togglePart } from '../../desk/commands/settings.ts';
import { SentenceChoice } from '../parts/sentence.tsx';
import { BarDrawing } from './barDrawing.tsx';
import { RoomSettings } from './roomSettings.tsx';
import { SetEditor } from './setEditor.tsx';

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const Problem = (props: {
  motif: Motif;
  plan: Plan;
  check: PartCheck;
  problem: RangeProblem;
}): ComponentChildren => {
  const { desk } = useApp();
  const { motif, plan, check, problem } = props;
  const statement = findStatement(plan, problem.statement);
  if (statement === undefined) return null;
  const name = statementName(motif, plan, statement);
  const lacks = lackWords(check.set, problem.toneBars).join('; ');
  const trying = desk.trial.value !== undefined;
  return (
    <li class="lack">
      <span>
        <strong>
          <span aria-hidden="true">✕ </span>
          {capital(name)}, {barAndBeatWords(barringIn(motif, plan), statement.onset)}:
        </strong>{' '}
        {lacks}.
      </span>
      {trying ? (
        <span class="quiet">Keep what is being tried, or leave it, to mend this.</span>
      ) : problem.remedies.length === 0 ? (
        <span class="quiet">No move mends this: choose another set, or change its notes.</span>
      ) : (
        <span class="tools">
          {problem.remedies.map(remedy => {
            const words = remedyWords(remedy, check.set);
            return (
              <button
                key={words}
                class="tool"
                aria-label={`${capital(words)} (${name})`}
                onClick={event => {
                  // The button goes with its problem; the keyboard stays where it was.
                  event.currentTarget.closest<HTMLElement>('.playable-part')?.focus();
                  desk.run(mend, words.replace('move it', `move ${name}`), remedy);
                }}
              >
                {capital(words)}
              </button>
            );
          })}
        </span>
      )}
    </li>
  );
};

const PartLine = (props: { motif: Motif; plan: Plan; check: PartCheck }): ComponentChildren => {
  const { motif, plan, check } = props;
  const { desk } = useApp();
  const { part, set, needed } = check;
  const hands = desk.stickingShown.value.includes(part.id);
  const [editing, setEditing] = useState(false);
  const name = partName(plan, part);
  const out = needed.filter(bar => bar.state === 'there').map(bar => bar.name);
  const heard = heardWords(set, part.instrument);
  return (
    <li class="playable-part" aria-label={name} tabIndex={-1}>
      <p class="playable-line">
        <SentenceChoice
          before={`${name} plays on:`}
          value={set.id}
          choices={setsFor(desk.room.value, part.instrument).map(s => ({ value: s.id, text: s.name }))}
          onChoose={id => {
            const chosen = desk.room.value.sets.find(s => s.id === id)?.name.toLowerCase() ?? 'another set';
            desk.run(changeRoom, `${name.toLowerCase()} on the ${chosen}`, old =>
              chooseSet(old, plan, part, id),
            );
          }}
        />
        {heard === '' ? null : <span class="quiet">{heard}</span>}
        <span class="tools">
          <button
            class="tool"
            aria-pressed={hands}
            aria-label={`Sticking of the ${afterThe(name)}`}
            onClick={() => {
              desk.run(togglePart, 'stickingShown', part.id);
            }}
          >
            Sticking
          </button>
          <button
            class="tool"
            aria-expanded={editing}
            aria-label={`Change this set: ${set.name.toLowerCase()}`}
            onClick={() => {
              setEditing(!editing);
            }}
          >
            Change this set
          </button>
        </span>
      </p>
      <div class="set-out">
        <p>
          {needed.length === 0 ? (
            'It has no notes yet: no bars to set out.'
          ) : (
            <>
              <strong>
                Set out {out.length} {out.length === 1 ? 'bar' : 'bars'}:
              </strong>{' '}
              {out.join(', ')}
            </>
          )}
        </p>
        <div class="bar-drawing-frame">
          <BarDrawing set={set} needed={needed} />
        </div>
      </div>
      {editing ? <SetEditor set={set} /> : null}
      {check.problems.length + check.warnings.length === 0 ? null : (
        <ul class="lacks" aria-label={`What to look at in the ${afterThe(name)}`}>
          {check.problems.map(problem => (
            <Problem key={problem.statement} motif={motif} plan={plan} check={check} problem={problem} />
          ))}
          {check.warnings.map(warning => (
            <li key={warning.kind} class="lack">
              <span>
                <span aria-hidden="true">! </span>
                {warningWords(barringIn(motif, plan), warning)}.
              </span>
            </li>
          ))}
        </ul>
      )}
      {hands ? (
        <>
          <p class="quiet">Sticking: R right, L left, LR both at once.</p>
          <ol class="sticking" aria-label={`Sticking of the ${afterThe(name)}, R right, L left, LR both`}>
            {stickingLines(handsByBar(check, barringIn(motif, plan))).map(line => (
              <li key={line}>{line}</li>
            ))}
          </ol>
        </>
      ) : null}
    </li>
  );
};

/** How the foot's button tells what the panel holds. */
export const playableWords = (count: number): string =>
  count === 0 ? 'Playable: yes' : `Playable: ${String(count)} to look at`;

/** What it takes to play the piece in this room: bars to set out, what has no bar, what is too fast. */
export const PlayablePanel = (): ComponentChildren => {
  const { desk } = useApp();
  const motif = desk.motif.value;
  const plan = desk.shownPlan.value;
  const check = desk.playable.value;
  if (motif === undefined || plan === undefined || check === undefined) return null;
  return (
    <div class="parts-panel playable-panel" role="group" aria-label="Playable">
      <p class="quiet">
        <span aria-hidden="true">● </span>a dot: a bar to set out. <span aria-hidden="true">✕ </span>a cross:
        needed, and not there.
      </p>
      <ul>
        {check.parts.map(p => (
          <PartLine key={p.part.id} motif={motif} plan={plan} check={p} />
        ))}
      </ul>
      <RoomSettings />
    </div>
  );
};
