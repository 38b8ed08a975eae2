import { useComputed } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { tactus } from '../../../core/foundation/metre.ts';
import { valueName, valueOf } from '../../../core/foundation/noteValue.ts';
import { INSTRUMENT_IDS, INSTRUMENTS, type InstrumentId } from '../../../core/instruments/instruments.ts';
import { beatsInBar } from '../../../core/take/clickBeats.ts';
import { inputNow } from '../../desk/acts/striking.ts';
import { useApp } from '../../desk/appContext.ts';
import { caught, caughtIn, metreChosen } from '../../desk/commands/playing.ts';
import { setPlay, showPupilView, showWindow } from '../../desk/commands/settings.ts';
import type { PlaySettings } from '../../desk/session.ts';
import { Foot } from '../foot.tsx';
import { PupilWord } from '../parts/pupilWord.tsx';
import { SentenceChoice, SentenceNumber } from '../parts/sentence.tsx';
import { Bars } from './bars.tsx';
import { Demo, OpenOthers } from './demo.tsx';
import { CatchWords, Lately } from './lately.tsx';
import { MetreChoice } from './metreChoice.tsx';
import { MoreOfPlay } from './moreOfPlay.tsx';
import { PhraseList } from './phraseList.tsx';
import { SoFar } from './soFar.tsx';
import { SourceChoice } from './roomEar.tsx';
import { HELP } from '../help/helpWords.ts';

const SETS: readonly { readonly value: string; readonly text: string }[] = [
  { value: '', text: 'none' },
  { value: '5,11', text: 'F and B' },
  { value: '0,5', text: 'C and F' },
  { value: '4,11', text: 'E and B' },
  { value: '1,3,6,8,10', text: 'the back row' },
  { value: '1,3,5,6,8,10,11', text: 'the back row, F and B' },
];

const ClickSentence = (): ComponentChildren => {
  const { desk } = useApp();
  const settings = desk.playSettings.value;
  const change = (changed: Partial<PlaySettings>): void => {
    desk.run(setPlay, changed);
  };
  const unit = valueName(valueOf(tactus(settings.metre)) ?? { base: 4, dots: 0 }, desk.nameStyle.value);
  return (
    <span class="sentence-group">
      <SentenceChoice
        before="Click:"
        help={HELP.click}
        value={settings.clickOn ? 'on' : 'off'}
        choices={[
          { value: 'off', text: 'none' },
          { value: 'on', text: 'on' },
        ]}
        onChoose={value => {
          change({ clickOn: value === 'on' });
        }}
      />
      {metreChosen({ play: settings }) === undefined ? null : <MetreChoice before="in" />}
      {settings.clickOn ? (
        <SentenceNumber
          before={`${unit} =`}
          value={settings.bpm}
          least={30}
          most={240}
          onChoose={bpm => {
            change({ bpm });
          }}
        />
      ) : null}
    </span>
  );
};

/** How long the click counts before the first beat. */
const CountIn = (): ComponentChildren => {
  const { desk } = useApp();
  return (
    <SentenceChoice
      before="with"
      value={String(desk.playSettings.value.countInBars)}
      choices={[
        { value: '0', text: 'no count-in' },
        { value: '1', text: 'one bar of count-in' },
        { value: '2', text: 'two bars of count-in' },
      ]}
      onChoose={value => {
        desk.run(setPlay, { countInBars: Number(value) });
      }}
    />
  );
};

const BeatLamps = (): ComponentChildren => {
  const { desk } = useApp();
  const count = beatsInBar(desk.playSettings.value.metre);
  const now = desk.beat.value;
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

/** Whether one press would catch something; followed alone, for it changes seldom and strikes come often. */
const useCanCatch = (): boolean => {
  const { desk } = useApp();
  return useComputed(
    () => caughtIn(desk.memory.value, inputNow(), desk.session.value, desk.chosen.value).length > 0,
  ).value;
};

/** The idea in Write was played again. */
const OnceMore = (): ComponentChildren => {
  const { striking } = useApp();
  return (
    <button
      class="tool"
      disabled={!useCanCatch()}
      onClick={striking.onceMore}
      title="The idea in Write was played again: both playings are read together"
    >
      Once more
    </button>
  );
};

/** Hears and catches what one press would keep. */
const PlayFoot = (): ComponentChildren => {
  const { desk, listening, striking } = useApp();
  const canCatch = useCanCatch();
  const hearWanted = (): void => {
    const { instrument, mallets } = desk.playSettings.value;
    listening.struck(
      caught(desk.now(), inputNow()).flatMap(phrase => phrase.strikes),
      instrument,
      mallets[instrument],
    );
  };
  return (
    <Foot
      hear={canCatch ? hearWanted : undefined}
      action={
        <button
          class="main-action"
          disabled={!canCatch}
          onClick={() => {
            striking.catchThat();
          }}
        >
          Catch that
        </button>
      }
    >
      <CatchWords />
    </Foot>
  );
};

/** Play: bars to strike, a memory that forgets nothing for five minutes, and one press to keep the last phrase. */
export const Play = (props: { onOpenFile: () => void }): ComponentChildren => {
  const { desk, striking } = useApp();
  const settings = desk.playSettings.value;
  const [lifting, setLifting] = useState(false);
  const liftedText = settings.lifted.join(',');
  const sets = SETS.some(s => s.value === liftedText)
    ? SETS
    : [...SETS, { value: liftedText, text: 'my own choice' }];
  const nothingYet = !desk.isStruck.value;
  return (
    <>
      <div class="sentences play-sentence">
        <PupilWord />
        <SentenceChoice
          before={
            (desk.pupil.value?.className ?? '') === ''
              ? 'plays a'
              : `of ${desk.pupil.value?.className ?? ''} plays a`
          }
          value={settings.instrument}
          choices={INSTRUMENT_IDS.map(id => ({ value: id, text: INSTRUMENTS[id].name.toLowerCase() }))}
          onChoose={value => {
            desk.run(setPlay, { instrument: value as InstrumentId });
          }}
        />
        <SourceChoice />
        <ClickSentence />
        <span class="sentence-group">
          <SentenceChoice
            before="Bars lifted off:"
            help={HELP.lifted}
            value={liftedText}
            choices={sets}
            onChoose={value => {
              desk.run(setPlay, { lifted: value === '' ? [] : value.split(',').map(Number) });
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
      <Bars instrument={settings.instrument} lifting={lifting} />
      <div class="play-lately">
        {nothingYet ? (
          <Demo onOpenFile={props.onOpenFile} />
        ) : (
          <>
            <div class="heard-so-far">
              <Lately />
              {settings.writesAlong ? <SoFar /> : null}
            </div>
            <PhraseList />
          </>
        )}
        <p class="sentences small play-more">
          {settings.clickOn ? (
            <span class="click-row">
              <button class="second" disabled={desk.clickRunning.value} onClick={striking.toggleClick}>
                Start the click
              </button>
              <CountIn />
              <BeatLamps />
            </span>
          ) : null}
          {desk.roomEar.value?.name === undefined || desk.roomEar.value.hears === 'claps' ? null : (
            <button
              class="tool"
              onClick={() => {
                desk.run(showWindow, 'learning');
              }}
            >
              Strike each bar once
            </button>
          )}
          {nothingYet || desk.piece.value === undefined ? null : <OnceMore />}
          {nothingYet ? null : <OpenOthers onOpenFile={props.onOpenFile} />}
          <span class="grow-space" />
          <MoreOfPlay />
          <button
            class="tool"
            title="Only what a pupil needs, one thing at a time"
            onClick={() => {
              desk.run(showPupilView, true);
            }}
          >
            Pupil view
          </button>
        </p>
      </div>
      <PlayFoot />
    </>
  );
};
