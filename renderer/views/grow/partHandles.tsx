import type { ComponentChildren } from 'preact';
import {
  INSTRUMENT_IDS,
  INSTRUMENTS,
  type InstrumentId,
  transpositionWords,
} from '../../../core/instruments/instruments.ts';
import { malletFor, type MalletId } from '../../../core/instruments/mallets.ts';
import {
  afterThe,
  balancePart,
  giveInstrument,
  giveMallet,
  LONGEST_NAME,
  partName,
  removePart,
  renamePart,
  shiftPart,
} from '../../../core/plan/partList.ts';
import type { Part, Plan } from '../../../core/plan/plan.ts';
import { useApp } from '../../desk/appContext.ts';
import { togglePart } from '../../desk/commands/settings.ts';
import { changePlan } from '../../desk/commands/trial.ts';
import { Drop } from '../parts/drop.tsx';
import { malletChoices } from '../parts/malletChoices.ts';
import type { PlacedSystem } from '../parts/scorePage.tsx';
import { SentenceChoice } from '../parts/sentence.tsx';
import { useTyping } from '../parts/typing.ts';

/** Room that handles take at the left of the staves, in CSS pixels. */
export const HANDLE_ROOM = 140;
const HANDLE_HEIGHT = 32;

const LOUDNESS: readonly { readonly value: string; readonly text: string }[] = [
  { value: '6', text: 'much louder (+6 dB)' },
  { value: '3', text: 'louder (+3 dB)' },
  { value: '0', text: 'as loud as the others' },
  { value: '-3', text: 'softer (−3 dB)' },
  { value: '-6', text: 'much softer (−6 dB)' },
  { value: '-12', text: 'in the background (−12 dB)' },
  { value: '-24', text: 'hardly heard (−24 dB)' },
];

/** What a handle opens: everything that is done to a part as a whole. */
const PartBox = (props: { plan: Plan; part: Part; index: number; close: () => void }): ComponentChildren => {
  const { desk } = useApp();
  const { plan, part, index } = props;
  const name = partName(plan, part);
  const typing = useTyping(part.name ?? '', own => {
    desk.run(changePlan, `name the ${afterThe(name)}`, old => renamePart(old, part.id, own));
  });
  const sounds = transpositionWords(INSTRUMENTS[part.instrument].soundsAbove);
  return (
    <div class="part-box">
      <span class="tools">
        <button
          class="tool"
          aria-pressed={desk.mutedParts.value.includes(part.id)}
          onClick={() => {
            desk.run(togglePart, 'mutedParts', part.id);
          }}
        >
          Silent
        </button>
        <button
          class="tool"
          aria-pressed={desk.aloneParts.value.includes(part.id)}
          onClick={() => {
            desk.run(togglePart, 'aloneParts', part.id);
          }}
        >
          Alone
        </button>
        <span class="tools-gap" />
        <button
          class="tool"
          aria-label={`${name} up`}
          disabled={index === 0}
          onClick={() => {
            desk.run(changePlan, `${name} up`, old => shiftPart(old, part.id, -1));
          }}
        >
          Up
        </button>
        <button
          class="tool"
          aria-label={`${name} down`}
          disabled={index === plan.parts.length - 1}
          onClick={() => {
            desk.run(changePlan, `${name} down`, old => shiftPart(old, part.id, 1));
          }}
        >
          Down
        </button>
        <span class="tools-gap" />
        <button
          class="tool"
          aria-label={`Take the ${afterThe(name)} away`}
          disabled={plan.parts.length < 2}
          onClick={event => {
            const place = event.currentTarget.closest('.part-place');
            props.close();
            // Its handle goes with it: whoever works by keys goes on from the part beside it.
            const beside = place?.nextElementSibling ?? place?.previousElementSibling;
            beside?.querySelector<HTMLElement>('.part-handle')?.focus();
            desk.run(changePlan, `take the ${afterThe(name)} away`, old => removePart(old, part.id));
          }}
        >
          Take away
        </button>
      </span>
      <p class="sentences">
        <SentenceChoice
          before="Played on a"
          value={part.instrument}
          choices={INSTRUMENT_IDS.map(id => ({ value: id, text: INSTRUMENTS[id].name.toLowerCase() }))}
          onChoose={value => {
            desk.run(changePlan, `${name} on a ${value}`, old =>
              giveInstrument(old, part.id, value as InstrumentId),
            );
          }}
        />
        <SentenceChoice
          before="with"
          value={malletFor(part.instrument, part.mallet)}
          choices={malletChoices(part.instrument)}
          after="mallets."
          onChoose={value => {
            desk.run(changePlan, `other mallets for the ${afterThe(name)}`, old =>
              giveMallet(old, part.id, value as MalletId),
            );
          }}
        />
        <SentenceChoice
          before="Loudness:"
          value={String(part.balance ?? 0)}
          choices={LOUDNESS}
          onChoose={value => {
            desk.run(changePlan, `loudness of the ${afterThe(name)}`, old =>
              balancePart(old, part.id, Number(value)),
            );
          }}
        />
      </p>
      <label class="part-naming">
        Its name{' '}
        <input
          class="part-own-name"
          aria-label={`Name of part ${String(index + 1)}`}
          {...typing}
          placeholder={name}
          maxLength={LONGEST_NAME}
        />
      </label>
      {sounds === '' ? null : <p class="part-heard">It {sounds}.</p>}
    </div>
  );
};

/**
 * The name of every part, left of its stave, as a handle: what is done to a part is behind it. The tab key stops at
 * those of the first system alone, for all systems have the same.
 */
export const PartHandles = (props: {
  systems: readonly PlacedSystem[];
  plan: Plan;
  /** The plan on the page, which may have a part that is only tried. */
  shown: Plan;
}): ComponentChildren => {
  const { desk } = useApp();
  const { plan, shown } = props;
  return (
    <>
      {props.systems.map((system, s) => (
        <div
          class="over"
          key={s}
          style={{ top: `${String(system.top)}px`, height: `${String(system.height)}px` }}
        >
          {system.staves.map(stave => {
            const index = plan.parts.findIndex(p => p.id === stave.part);
            const part = plan.parts[index];
            const top = `${String((stave.top + stave.bottom - HANDLE_HEIGHT) / 2)}px`;
            if (part === undefined) {
              const tried = shown.parts.find(p => p.id === stave.part);
              return (
                <div class="part-place tried" key={stave.part} style={{ top }}>
                  {tried === undefined ? '' : partName(shown, tried)}
                </div>
              );
            }
            const name = partName(plan, part);
            const silent = desk.mutedParts.value.includes(part.id);
            const alone = desk.aloneParts.value.includes(part.id);
            const state = silent ? ', silent' : alone ? ', alone' : '';
            return (
              <div class="part-place" key={part.id} style={{ top }}>
                <Drop
                  class={`part-handle${silent ? ' silent' : ''}${alone ? ' alone' : ''}`}
                  label={`${name}${state}: loudness, order, instrument`}
                  tabIndex={s === 0 ? 0 : -1}
                  text={<span class="part-handle-name">{name}</span>}
                  panelLabel={name}
                >
                  {close => <PartBox plan={plan} part={part} index={index} close={close} />}
                </Drop>
              </div>
            );
          })}
        </div>
      ))}
    </>
  );
};
