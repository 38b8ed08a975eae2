import type { ComponentChildren } from 'preact';
import { isNatural } from '../../../core/foundation/pitch.ts';
import {
  type ToneBarSet,
  toneBarState,
  pitchesOf,
  withToneBar,
  withEnds,
  withExchange,
} from '../../../core/playable/toneBarSet.ts';
import { PRESETS } from '../../../core/playable/presets.ts';
import { changeSet } from '../../../core/playable/musicRoom.ts';
import { toneBarName, soundsWords } from '../../../core/playable/words.ts';
import { useApp } from '../../desk/appContext.ts';
import { changeRoom } from '../../desk/commands/room.ts';
import { SentenceChoice } from '../parts/sentence.tsx';

/** Lowest and highest bar a set may be given: C2 to C8 as written. */
const NATURALS = Array.from({ length: 73 }, (_, i) => 36 + i).filter(isNatural);
const choices = (pitches: readonly number[]): { value: string; text: string }[] =>
  pitches.map(pitch => ({ value: String(pitch), text: toneBarName(pitch) }));

/** A press goes from there to lifted off to missing and back. */
const NEXT = { there: 'lifted', lifted: 'missing', missing: 'there' } as const;
const STATE = { there: '', lifted: 'lifted off', missing: 'missing' } as const;

/** What a set of the room has: its ends, bars lifted off or missing, exchange bars. */
export const SetEditor = (props: { set: ToneBarSet }): ComponentChildren => {
  const { desk } = useApp();
  const { set } = props;
  const change = (name: string, to: (set: ToneBarSet) => ToneBarSet): void => {
    desk.run(changeRoom, name, room => changeSet(room, set.id, to));
  };
  const preset = PRESETS.find(p => p.id === set.id);
  return (
    <div class="set-editor" role="group" aria-label={`Bars of the ${set.name.toLowerCase()}`}>
      <p class="sentences small">
        <SentenceChoice
          before="From"
          value={String(set.low)}
          choices={choices(NATURALS.filter(p => p < set.high))}
          onChoose={low => {
            change(`lowest bar ${toneBarName(Number(low))}`, old => withEnds(old, Number(low), old.high));
          }}
        />
        <SentenceChoice
          before="to"
          value={String(set.high)}
          choices={choices(NATURALS.filter(p => p > set.low))}
          onChoose={high => {
            change(`highest bar ${toneBarName(Number(high))}`, old => withEnds(old, old.low, Number(high)));
          }}
        />
        <span class="quiet">{soundsWords(set)}</span>
        <button
          class="tool"
          disabled={preset === undefined}
          onClick={() => {
            if (preset !== undefined) change(`${set.name.toLowerCase()} as it comes`, () => preset);
          }}
        >
          As it comes
        </button>
      </p>
      <p class="quiet">
        Press a bar once where it is lifted off, twice where the room has none, again to put it back.
      </p>
      <p class="tools">
        {pitchesOf(set)
          .filter(pitch => set.accidentals || isNatural(pitch))
          .map(pitch => {
            const now = toneBarState(set, pitch);
            if (now !== 'there' && now !== 'lifted' && now !== 'missing') return null;
            const words = STATE[now];
            return (
              <button
                key={pitch}
                class={`tool set-bar ${now}`}
                onClick={() => {
                  const state = NEXT[now];
                  change(`${toneBarName(pitch)} ${state === 'there' ? 'back on' : STATE[state]}`, old =>
                    withToneBar(old, pitch, state),
                  );
                }}
              >
                {toneBarName(pitch)}
                {words === '' ? '' : ` ${words}`}
              </button>
            );
          })}
      </p>
      {set.exchange.length === 0 ? null : (
        <p class="tools">
          {set.exchange.map(e => (
            <button
              key={e.pitch}
              class="tool"
              aria-pressed={e.isIn}
              onClick={() => {
                change(
                  e.isIn
                    ? `${toneBarName(e.inPlaceOf)} in again`
                    : `${toneBarName(e.pitch)} for ${toneBarName(e.inPlaceOf)}`,
                  old => withExchange(old, e.pitch, !e.isIn),
                );
              }}
            >
              {toneBarName(e.pitch)} for {toneBarName(e.inPlaceOf)}
            </button>
          ))}
        </p>
      )}
    </div>
  );
};
