import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { INSTRUMENT_IDS, INSTRUMENTS, type InstrumentId } from '../../../core/instruments/instruments.ts';
import {
  balancePart,
  giveInstrument,
  LONGEST_NAME,
  partName,
  removePart,
  renamePart,
  shiftPart,
} from '../../../core/plan/partList.ts';
import { MOST_PARTS, type Part, type Plan } from '../../../core/plan/plan.ts';
import { toggleLetter } from '../../../core/growing/sections.ts';
import { tempoFrom } from '../../../core/plan/tempi.ts';
import { useApp } from '../../desk/appContext.ts';
import { togglePart } from '../../desk/commands/settings.ts';
import { addEmptyPart } from '../../desk/commands/statements.ts';
import { changePlan } from '../../desk/commands/trial.ts';
import { SentenceChoice, SentenceNumber } from '../parts/sentence.tsx';

const LOUDNESS: readonly { readonly value: string; readonly text: string }[] = [
  { value: '6', text: 'much louder (+6 dB)' },
  { value: '3', text: 'louder (+3 dB)' },
  { value: '0', text: 'as loud as the others' },
  { value: '-3', text: 'softer (−3 dB)' },
  { value: '-6', text: 'much softer (−6 dB)' },
  { value: '-12', text: 'in the background (−12 dB)' },
  { value: '-24', text: 'hardly heard (−24 dB)' },
];

const Row = (props: { plan: Plan; part: Part; index: number }): ComponentChildren => {
  const { desk } = useApp();
  const { plan, part, index } = props;
  const name = partName(plan, part);
  const alone = desk.aloneParts.value.includes(part.id);
  const muted = desk.mutedParts.value.includes(part.id);
  return (
    <li class="part-row">
      <input
        class="part-own-name"
        aria-label={`Name of part ${String(index + 1)}`}
        value={part.name ?? ''}
        placeholder={name}
        maxLength={LONGEST_NAME}
        onChange={event => {
          const own = event.currentTarget.value;
          desk.run(changePlan, `name the ${name.toLowerCase()}`, old => renamePart(old, part.id, own));
        }}
      />
      <SentenceChoice
        before="on a"
        value={part.instrument}
        choices={INSTRUMENT_IDS.map(id => ({ value: id, text: INSTRUMENTS[id].name.toLowerCase() }))}
        onChoose={value => {
          desk.run(changePlan, `${name} on a ${value}`, old =>
            giveInstrument(old, part.id, value as InstrumentId),
          );
        }}
      />
      <SentenceChoice
        before=""
        value={String(part.balance ?? 0)}
        choices={LOUDNESS}
        onChoose={value => {
          desk.run(changePlan, `loudness of the ${name.toLowerCase()}`, old =>
            balancePart(old, part.id, Number(value)),
          );
        }}
      />
      <span class="tools">
        <button
          class="tool"
          aria-pressed={muted}
          onClick={() => {
            desk.run(togglePart, 'mutedParts', part.id);
          }}
        >
          Silent
        </button>
        <button
          class="tool"
          aria-pressed={alone}
          onClick={() => {
            desk.run(togglePart, 'aloneParts', part.id);
          }}
        >
          Alone
        </button>
        <button
          class="tool"
          aria-label={`${name} up`}
          disabled={index === 0}
          onClick={() => {
            desk.run(changePlan, `${name} up`, old => shiftPart(old, part.id, -1));
          }}
        >
          ↑
        </button>
        <button
          class="tool"
          aria-label={`${name} down`}
          disabled={index === plan.parts.length - 1}
          onClick={() => {
            desk.run(changePlan, `${name} down`, old => shiftPart(old, part.id, 1));
          }}
        >
          ↓
        </button>
        <button
          class="tool"
          aria-label={`Take the ${name.toLowerCase()} away`}
          disabled={plan.parts.length < 2}
          onClick={() => {
            desk.run(changePlan, `take the ${name.toLowerCase()} away`, old => removePart(old, part.id));
          }}
        >
          Take away
        </button>
      </span>
    </li>
  );
};

/** Letters and metronome marks, by bar. */
const BarMarks = (props: { plan: Plan; bars: number; unit: string }): ComponentChildren => {
  const { desk } = useApp();
  const { plan, bars, unit } = props;
  const [wanted, setWanted] = useState(1);
  const bar = Math.min(wanted, bars);
  const letter = plan.letters.find(l => l.bar === bar - 1)?.letter;
  const mark = (plan.tempi ?? []).find(t => t.bar === bar - 1)?.tempo;
  return (
    <p class="sentences small">
      <SentenceNumber before="At bar" value={bar} least={1} most={bars} onChoose={setWanted} />
      <SentenceChoice
        before="rehearsal letter:"
        value={letter === undefined ? 'no' : 'yes'}
        choices={[
          { value: 'no', text: 'none' },
          { value: 'yes', text: letter ?? 'yes' },
        ]}
        onChoose={value => {
          if ((value === 'yes') !== (letter !== undefined))
            desk.run(
              changePlan,
              letter === undefined ? `letter at bar ${String(bar)}` : `no letter at bar ${String(bar)}`,
              old => toggleLetter(old, bar),
            );
        }}
      />
      {bar === 1 ? null : (
        <SentenceNumber
          before={`from here ${unit} =`}
          value={Math.round(mark ?? plan.tempo)}
          least={20}
          most={300}
          onChoose={tempo => {
            desk.run(changePlan, `${unit} = ${String(tempo)} from bar ${String(bar)}`, old =>
              tempoFrom(old, bar, tempo),
            );
          }}
        />
      )}
    </p>
  );
};

/** The parts, their order and loudness; letters and metronome marks. */
export const PartsPanel = (props: { plan: Plan; bars: number; unit: string }): ComponentChildren => {
  const { desk } = useApp();
  const { plan } = props;
  const [fresh, setFresh] = useState<InstrumentId>('marimba');
  return (
    <div class="parts-panel" role="group" aria-label="Parts and bars">
      <ul>
        {plan.parts.map((part, index) => (
          <Row key={part.id} plan={plan} part={part} index={index} />
        ))}
      </ul>
      <div class="parts-foot">
        {plan.parts.length >= MOST_PARTS ? null : (
          <span class="sentence-group">
            <button
              class="tool"
              onClick={() => {
                desk.run(addEmptyPart, fresh);
              }}
            >
              Add
            </button>
            <SentenceChoice
              before="a"
              value={fresh}
              choices={INSTRUMENT_IDS.map(id => ({ value: id, text: INSTRUMENTS[id].name.toLowerCase() }))}
              onChoose={value => {
                setFresh(value as InstrumentId);
              }}
            />
          </span>
        )}
        <BarMarks {...props} />
      </div>
    </div>
  );
};
