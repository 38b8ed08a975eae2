import type { ComponentChildren } from 'preact';
import { fraction, toNumber } from '../../../core/foundation/fraction.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import { nextName } from '../../../core/foundation/enharmonic.ts';
import { letterName, pitchName } from '../../../core/foundation/pitch.ts';
import { statementName } from '../../../core/plan/naming.ts';
import { partName } from '../../../core/plan/partList.ts';
import { INSTRUMENTS } from '../../../core/instruments/instruments.ts';
import { NOTE_MARKS, type NoteMarkKind } from '../../../core/plan/noteMarks.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { barsOfStatement } from '../../../core/growing/sections.ts';
import {
  followsMetre,
  notesOfStatement,
  passageOf,
  type Statement,
  statementStart,
} from '../../../core/plan/statement.ts';
import { hearStatement } from '../../desk/acts/comparing.ts';
import { useApp } from '../../desk/appContext.ts';
import {
  changeByHand,
  toggleNoteMark,
  copyStatement,
  moveStatement,
  takeAway,
  tieAgain,
} from '../../desk/commands/statements.ts';
import { Drop } from '../parts/drop.tsx';
import { StatementMarksBox } from './statementMarks.tsx';

const Tool = (props: { text: string; keys?: string; onPress: () => void }): ComponentChildren => (
  <button class="tool" title={props.keys} onClick={props.onPress}>
    {props.text}
  </button>
);

const NOTE_MARK_WORDS: Readonly<Record<NoteMarkKind, string>> = {
  roll: 'Rolled',
  fermata: 'Held (fermata)',
  ring: 'Let ring',
  dead: 'Dead stroke',
};

/** How one note alone is struck and left. */
const MarksOnNote = (props: {
  statement: Statement;
  name: string;
  index: number;
  /** Which time through, from 0. */
  time: number;
  isRolled: boolean;
}): ComponentChildren => {
  const { desk } = useApp();
  const { statement, name, index, time } = props;
  const set = (statement.noteMarks ?? []).filter(m => m.time === time && m.note === index).map(m => m.mark);
  return (
    <div class="tools" role="group" aria-label={`Marks on ${name} alone`}>
      {NOTE_MARKS.filter(mark => mark !== 'roll' || !props.isRolled).map(mark => {
        const isSet = set.includes(mark);
        return (
          <button
            key={mark}
            class="tool"
            aria-pressed={isSet}
            onClick={() => {
              const named = `${name} ${isSet ? 'not ' : ''}${NOTE_MARK_WORDS[mark].toLowerCase()}`;
              desk.run(toggleNoteMark, statement.id, named, { time, note: index, mark });
            }}
          >
            {NOTE_MARK_WORDS[mark]}
          </button>
        );
      })}
    </div>
  );
};

interface OneNote {
  readonly motif: Motif;
  readonly plan: Plan;
  readonly statement: Statement;
  readonly index: number;
  /** Which time through, from 0. */
  readonly time: number;
}

/** One note of a figure that goes with the bars of another metre: it has marks of its own, and nothing else. */
const NoteOfFigure = (props: OneNote): ComponentChildren => {
  const { motif, plan, statement, index, time } = props;
  const ref = `${statement.id}:${String(time)}:${String(index)}`;
  const note = notesOfStatement(motif, statement, plan).find(n => n.ref === ref);
  if (note === undefined) return null;
  const name = pitchName(note.pitch);
  return (
    <div class="note-by-hand">
      <MarksOnNote statement={statement} name={name} index={index} time={time} isRolled={false} />
      <p class="quiet">Its figure goes with the bars it is in.</p>
    </div>
  );
};

/** One note of the statement, to be marked or changed by hand. */
const NoteByHand = (props: OneNote): ComponentChildren => {
  const { desk } = useApp();
  const { motif, plan, statement, index, time } = props;
  const note = passageOf(motif, statement).notes[index];
  if (note === undefined) return null;
  const once = { ...statement, times: 1 };
  const placed = notesOfStatement(motif, once)[index];
  const shown = notesOfStatement(motif, once, plan)[index];
  if (placed === undefined || shown === undefined) return null;
  const name = pitchName(shown.pitch);
  // A name is kept as the first key has it, and told as the key has it in which it stands.
  const other = nextName(motif.key, placed.pitch);
  const { letter, alter } = other;
  const respelled = notesOfStatement(
    motif,
    {
      ...once,
      detached: passageOf(motif, once).notes.map((n, i) => (i === index ? { ...n, name: other } : n)),
    },
    plan,
  )[index];
  const otherName = respelled === undefined ? name : pitchName(respelled.pitch);
  const quaver = fraction(1, 8);
  const semi = fraction(1, 16);
  const back = fraction(-1, 16);
  const by = statement.id;
  return (
    <div class="note-by-hand">
      <MarksOnNote
        statement={statement}
        name={name}
        index={index}
        time={time}
        isRolled={note.roll !== undefined || note.gliss !== undefined}
      />
      {(note.roll !== undefined || note.gliss !== undefined) && statement.detached === undefined ? (
        <p class="quiet">{`It is ${note.roll === undefined ? 'a glissando' : 'rolled'} in the idea; change that in Write.`}</p>
      ) : null}
      <p class="quiet">
        {name} alone
        {statement.detached === undefined ? ': changing it unties these bars from the motif.' : '.'}
      </p>
      <div class="tools">
        <Tool
          text="Higher"
          onPress={() => {
            desk.run(changeByHand, by, `${name} higher`, { kind: 'steps', note: index, steps: 1 });
          }}
        />
        <Tool
          text="Lower"
          onPress={() => {
            desk.run(changeByHand, by, `${name} lower`, { kind: 'steps', note: index, steps: -1 });
          }}
        />
        {otherName === name ? null : (
          <Tool
            text={`Respell as ${letterName(respelled?.pitch ?? other)}`}
            onPress={() => {
              desk.run(changeByHand, by, `${name} as ${otherName}`, {
                kind: 'respell',
                note: index,
                name: { letter, alter },
              });
            }}
          />
        )}
        <Tool
          text="Earlier"
          onPress={() => {
            desk.run(changeByHand, by, `${name} earlier`, { kind: 'move', note: index, by: back });
          }}
        />
        <Tool
          text="Later"
          onPress={() => {
            desk.run(changeByHand, by, `${name} later`, { kind: 'move', note: index, by: semi });
          }}
        />
        <Tool
          text="Longer"
          onPress={() => {
            desk.run(changeByHand, by, `${name} longer`, { kind: 'length', note: index, by: quaver });
          }}
        />
        <Tool
          text="Shorter"
          onPress={() => {
            desk.run(changeByHand, by, `${name} shorter`, { kind: 'length', note: index, by: back });
          }}
        />
        <Tool
          text="Delete"
          onPress={() => {
            desk.run(changeByHand, by, `delete ${name}`, { kind: 'delete', note: index });
          }}
        />
      </div>
    </div>
  );
};

/** The chosen statement: what it is, and what can be done with it where it stands. */
export const StatementHead = (props: {
  motif: Motif;
  plan: Plan;
  statement: Statement;
}): ComponentChildren => {
  const { desk, listening } = useApp();
  const { motif, plan, statement } = props;
  const part = plan.parts.find(p => p.id === statement.part);
  const { from, to } = barsOfStatement(motif, plan, statement);
  const playing = desk.hearing.value?.what === 'statement';
  const note = desk.selectedPlanNote.value;
  const index = note?.statement === statement.id ? note.index : undefined;
  return (
    <div class="statement-head">
      <h2>
        {part === undefined ? 'Part' : partName(plan, part)}, bar{to > from ? 's' : ''} {from}
        {to > from ? ` to ${String(to)}` : ''}
      </h2>
      <p class="pane-what">{statementName(motif, plan, statement)}</p>
      <div class="tools">
        <Tool
          text={playing ? 'Stop' : 'Hear it'}
          onPress={() => {
            if (playing) listening.stop();
            else hearStatement(desk, listening, statement.id, toNumber(statementStart(motif, statement)));
          }}
        />
        <Tool
          text="Earlier"
          keys="Alt+Left"
          onPress={() => {
            desk.run(moveStatement, statement.id, -1);
          }}
        />
        <Tool
          text="Later"
          keys="Alt+Right"
          onPress={() => {
            desk.run(moveStatement, statement.id, 1);
          }}
        />
        <Tool
          text="Copy"
          keys="C"
          onPress={() => {
            desk.run(copyStatement, statement.id);
          }}
        />
        <Drop
          class="tool marks-button"
          text={
            <>
              <span>Marks</span>
              <span class="caret ink" aria-hidden="true" />
            </>
          }
          panelLabel="Marks"
          panelClass="settings-panel"
        >
          {() => (
            <StatementMarksBox
              statement={statement}
              hasPedal={part !== undefined && INSTRUMENTS[part.instrument].hasPedal === true}
            />
          )}
        </Drop>
        {plan.statements.length > 1 ? (
          <Tool
            text="Take away"
            keys="Delete"
            onPress={() => {
              desk.run(takeAway, statement.id);
            }}
          />
        ) : null}
        {statement.detached === undefined ? null : (
          <Tool
            text="Tie to the motif again"
            onPress={() => {
              desk.run(tieAgain, statement.id);
            }}
          />
        )}
      </div>
      {index === undefined ? null : followsMetre(motif, statement, plan) ? (
        <NoteOfFigure motif={motif} plan={plan} statement={statement} index={index} time={note?.time ?? 0} />
      ) : (
        <NoteByHand motif={motif} plan={plan} statement={statement} index={index} time={note?.time ?? 0} />
      )}
    </div>
  );
};
