import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { key } from '../../../core/foundation/key.ts';
import { metreOfBar } from '../../../core/foundation/barring.ts';
import { metre, metreInWords, tactus } from '../../../core/foundation/metre.ts';
import { valueName, valueOf } from '../../../core/foundation/noteValue.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import { barringIn } from '../../../core/plan/keys.ts';
import { INSTRUMENT_IDS, INSTRUMENTS, type InstrumentId } from '../../../core/instruments/instruments.ts';
import { MOST_PARTS, type Plan } from '../../../core/plan/plan.ts';
import { toggleLetter } from '../../../core/growing/letters.ts';
import { keyChangeWords } from './otherKeys.ts';
import { useKeyAway, useMetreAway } from './takeChangeAway.tsx';
import { tempoFrom, tempoOfBar } from '../../../core/plan/tempi.ts';
import { useApp } from '../../desk/appContext.ts';
import { addEmptyPart } from '../../desk/commands/statements.ts';
import { changePlan } from '../../desk/commands/trial.ts';
import { SendingButton } from '../parts/sendingButton.tsx';
import { SentenceChoice, SentenceNumber } from '../parts/sentence.tsx';

/** What stands in for the key of a piece that is gone. */
const C = key('C');

/** What has a metre, where a piece is gone. */
const FOUR: Pick<Motif, 'metre'> = { metre: metre(4, 4) };

/** Letters, metronome marks, other keys and metres, by bar. */
const BarMarks = (props: { plan: Plan; bars: number }): ComponentChildren => {
  const { desk } = useApp();
  const { plan, bars } = props;
  const [wanted, setWanted] = useState(1);
  const bar = Math.min(wanted, bars);
  const letter = plan.letters.find(l => l.bar === bar - 1)?.letter;
  const other = plan.keys?.find(k => k.bar === bar - 1);
  const first = desk.motif.value?.key ?? C;
  const motif = desk.motif.value;
  const keyAway = useKeyAway({ bar });
  const metreAway = useMetreAway({ motif: motif ?? FOUR, plan, bar });
  const here = metreOfBar(barringIn(motif ?? FOUR, plan), bar - 1);
  const unit = valueName(valueOf(tactus(here.metre)) ?? { base: 4, dots: 0 }, desk.nameStyle.value);
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
          value={Math.round(tempoOfBar(motif ?? FOUR, plan, bar))}
          least={20}
          most={300}
          onChoose={tempo => {
            desk.run(changePlan, `${unit} = ${String(tempo)} from bar ${String(bar)}`, old =>
              tempoFrom(motif ?? FOUR, old, bar, tempo),
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
            if (value === 'none') keyAway();
          }}
        />
      )}
      {motif === undefined || here.bar === 0 || here.bar !== bar - 1 ? null : (
        <SentenceChoice
          before="metre:"
          value="there"
          choices={[
            { value: 'there', text: metreInWords(here.metre) },
            { value: 'none', text: 'as before' },
          ]}
          onChoose={value => {
            if (value === 'none') metreAway();
          }}
        />
      )}
    </p>
  );
};

/** A part more; letters and metronome marks. */
export const PartsPanel = (props: { plan: Plan; bars: number }): ComponentChildren => {
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
