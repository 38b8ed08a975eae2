import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { key } from '../../../core/foundation/key.ts';
import type { BarIndex } from '../../../core/foundation/units.ts';
import { withoutKey } from '../../../core/plan/keys.ts';
import { INSTRUMENT_IDS, INSTRUMENTS, type InstrumentId } from '../../../core/instruments/instruments.ts';
import { MOST_PARTS, type Plan } from '../../../core/plan/plan.ts';
import { toggleLetter } from '../../../core/growing/sections.ts';
import { keyChangeWords } from './otherKeys.ts';
import { tempoFrom } from '../../../core/plan/tempi.ts';
import { useApp } from '../../desk/appContext.ts';
import { addEmptyPart } from '../../desk/commands/statements.ts';
import { changePlan } from '../../desk/commands/trial.ts';
import { SendingButton } from '../parts/sendingButton.tsx';
import { SentenceChoice, SentenceNumber } from '../parts/sentence.tsx';

/** A plan without the change of key at a bar. */
const withoutKeyAt = ({ keys = [], ...plan }: Plan, bar: BarIndex): Plan => {
  const others = withoutKey(keys, bar);
  return others.length === 0 ? plan : { ...plan, keys: others };
};

/** What stands in for the key of a piece that is gone. */
const C = key('C');

/** Letters, metronome marks and other keys, by bar. */
const BarMarks = (props: { plan: Plan; bars: number; unit: string }): ComponentChildren => {
  const { desk } = useApp();
  const { plan, bars, unit } = props;
  const [wanted, setWanted] = useState(1);
  const bar = Math.min(wanted, bars);
  const letter = plan.letters.find(l => l.bar === bar - 1)?.letter;
  const other = plan.keys?.find(k => k.bar === bar - 1);
  const first = desk.motif.value?.key ?? C;
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
      {other === undefined ? null : (
        <SentenceChoice
          before="key:"
          value="there"
          choices={[
            { value: 'there', text: keyChangeWords(first, other) },
            { value: 'none', text: 'as before' },
          ]}
          onChoose={value => {
            if (value === 'none')
              desk.run(changePlan, `no other key at bar ${String(bar)}`, old => withoutKeyAt(old, bar - 1));
          }}
        />
      )}
    </p>
  );
};

/** A part more; letters and metronome marks. */
export const PartsPanel = (props: { plan: Plan; bars: number; unit: string }): ComponentChildren => {
  const { desk } = useApp();
  const { plan } = props;
  const [fresh, setFresh] = useState<InstrumentId>('marimba');
  return (
    <div class="parts-panel" role="group" aria-label="Parts and bars">
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
        <SendingButton />
      </div>
    </div>
  );
};
