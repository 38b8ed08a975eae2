import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { OFFERED_METRES, parseMetre, showMetre, tactus } from '../../../core/foundation/metre.ts';
import { valueName, valueOf } from '../../../core/foundation/noteValue.ts';
import { INSTRUMENT_IDS, INSTRUMENTS, type InstrumentId } from '../../../core/instruments/instruments.ts';
import { beatsInBar } from '../../../core/take/clickBeats.ts';
import { calibrationShown, lateness } from '../../store/calibration.ts';
import { nameStyle, playSettings } from '../../store/app.ts';
import {
  beat,
  caught,
  clickRunning,
  devices,
  inputNow,
  type Live,
  memory,
  phrasesToCatch,
} from '../../store/live.ts';
import { SentenceChoice, SentenceNumber } from '../parts/sentence.tsx';
import { ToneBars } from './bars.tsx';
import { Demo } from './demo.tsx';
import { CatchWords, Lately } from './lately.tsx';

const SETS: readonly { readonly value: string; readonly text: string }[] = [
  { value: '', text: 'none' },
  { value: '5,11', text: 'F and B' },
  { value: '0,5', text: 'C and F' },
  { value: '4,11', text: 'E and B' },
  { value: '1,3,6,8,10', text: 'the back row' },
  { value: '1,3,5,6,8,10,11', text: 'the back row, F and B' },
];

const and = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;

const ClickSentence = (): ComponentChildren => {
  const settings = playSettings.value;
  const set = (change: Partial<typeof settings>): void => {
    playSettings.value = { ...settings, ...change };
  };
  const unit = valueName(valueOf(tactus(settings.metre)) ?? { base: 4, dots: 0 }, nameStyle.value);
  return (
    <span class="sentence-group">
      <SentenceChoice
        before="Click:"
        value={settings.clickOn ? 'on' : 'off'}
        choices={[
          { value: 'off', text: 'none' },
          { value: 'on', text: 'to play along to' },
        ]}
        onChoose={value => {
          set({ clickOn: value === 'on' });
        }}
      />
      {settings.clickOn ? (
        <>
          <SentenceChoice
            before="in"
            value={showMetre(settings.metre)}
            choices={OFFERED_METRES.map(m => ({ value: m, text: m }))}
            onChoose={value => {
              set({ metre: parseMetre(value) ?? settings.metre });
            }}
          />
          <SentenceNumber
            before={`${unit} =`}
            value={settings.bpm}
            least={30}
            most={240}
            onChoose={bpm => {
              set({ bpm });
            }}
          />
          <SentenceChoice
            before="with"
            value={String(settings.countInBars)}
            choices={[
              { value: '0', text: 'no count-in' },
              { value: '1', text: 'one bar of count-in' },
              { value: '2', text: 'two bars of count-in' },
            ]}
            onChoose={value => {
              set({ countInBars: Number(value) });
            }}
          />
        </>
      ) : null}
    </span>
  );
};

const BeatLamps = (): ComponentChildren => {
  const count = beatsInBar(playSettings.value.metre);
  const now = beat.value;
  const countingIn = now !== undefined && now.beat < 0;
  return (
    <div class="beats" aria-hidden="true">
      {Array.from({ length: count }, (_, i) => (
        <span key={i} class={`beat-lamp${now?.inBar === i ? ' lit' : ''}${countingIn ? ' counting' : ''}`}>
          {i + 1}
        </span>
      ))}
      <span class="quiet">{countingIn ? 'counting in' : ''}</span>
    </div>
  );
};

/** Play: bars to strike, a memory that forgets nothing for five minutes, and one press to keep the last phrase. */
export const Play = (props: {
  live: Live;
  onOpenFile: () => void;
  onDemo: (file: string) => void;
}): ComponentChildren => {
  const settings = playSettings.value;
  const [lifting, setLifting] = useState(false);
  const sources = and([
    'the screen',
    ...(settings.keysPlay ? ['the keys'] : []),
    ...devices.value.map(d => `“${d}”`),
  ]);
  const lined = Object.keys(lateness.value).length;
  const liftedText = settings.lifted.join(',');
  const sets = SETS.some(s => s.value === liftedText)
    ? SETS
    : [...SETS, { value: liftedText, text: 'my own choice' }];
  const nothingYet = memory.value.strikes.length === 0;
  const canCatch = caught(inputNow()).length > 0;
  return (
    <>
      <div class="sentences">
        <SentenceChoice
          before="Playing a"
          value={settings.instrument}
          choices={INSTRUMENT_IDS.map(id => ({ value: id, text: INSTRUMENTS[id].name.toLowerCase() }))}
          after={` on ${sources}.`}
          onChoose={value => {
            playSettings.value = { ...settings, instrument: value as InstrumentId };
          }}
        />
        <span class="sentence">
          <span>Timing:</span>
          <button
            class="plain word"
            onClick={() => {
              calibrationShown.value = true;
            }}
          >
            {lined === 0 ? 'not lined up with the click' : 'lined up with the click'}
          </button>
        </span>
        <ClickSentence />
        <span class="sentence-group">
          <SentenceChoice
            before="Bars lifted off:"
            value={liftedText}
            choices={sets}
            onChoose={value => {
              playSettings.value = {
                ...settings,
                lifted: value === '' ? [] : value.split(',').map(Number),
              };
            }}
          />
          <button
            class="plain word"
            aria-pressed={lifting}
            onClick={() => {
              setLifting(!lifting);
            }}
          >
            {lifting ? 'done' : 'choose'}
          </button>
        </span>
      </div>
      <ToneBars live={props.live} instrument={settings.instrument} lifting={lifting} />
      <div class="play-foot">
        <div class="play-left">
          {settings.clickOn ? (
            <div class="click-row">
              <button class="second" aria-pressed={clickRunning.value} onClick={props.live.toggleClick}>
                {clickRunning.value ? 'Stop the click' : 'Start the click'}
              </button>
              <BeatLamps />
            </div>
          ) : null}
          {nothingYet ? <Demo onOpenFile={props.onOpenFile} onDemo={props.onDemo} /> : <Lately />}
        </div>
        <div class="catch">
          <button class="main-action" disabled={!canCatch} onClick={props.live.catchThat}>
            Catch that
          </button>
          <CatchWords />
          {nothingYet ? null : (
            <p class="sentences small">
              <SentenceNumber
                before="A phrase ends after"
                after="seconds of silence."
                value={settings.silence}
                least={0.5}
                most={10}
                step={0.5}
                onChoose={silence => {
                  playSettings.value = { ...settings, silence };
                }}
              />
              <SentenceChoice
                before="Keep"
                value={String(phrasesToCatch.value)}
                choices={[
                  { value: '1', text: 'the last phrase' },
                  { value: '2', text: 'the last two' },
                  { value: '3', text: 'the last three' },
                  { value: '999', text: 'everything' },
                ]}
                after="."
                onChoose={value => {
                  phrasesToCatch.value = Number(value);
                }}
              />
              <button class="plain word" onClick={props.onOpenFile}>
                Open a MIDI file
              </button>
            </p>
          )}
        </div>
      </div>
    </>
  );
};
