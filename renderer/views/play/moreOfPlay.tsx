import type { ComponentChildren } from 'preact';
import { malletFor, type MalletId } from '../../../core/instruments/mallets.ts';
import { useApp } from '../../desk/appContext.ts';
import { set, setMallet, setPlay, showWindow } from '../../desk/commands/settings.ts';
import { malletChoices } from '../parts/malletChoices.ts';
import { SendingButton } from '../parts/sendingButton.tsx';
import { MoreSettings } from '../parts/moreSettings.tsx';
import { SentenceChoice, SentenceNumber } from '../parts/sentence.tsx';
import { MetreChoice } from './metreChoice.tsx';
import { MicrophoneOfRoom } from './roomEar.tsx';
import { HELP } from '../help/helpWords.ts';

/** What is seldom changed in Play, out of a pupil's way: how a device is timed, where a phrase ends, how much is caught. */
export const MoreOfPlay = (): ComponentChildren => {
  const { desk } = useApp();
  const { instrument, mallets } = desk.playSettings.value;
  const lined = Object.keys(desk.lateness.value).length;
  return (
    <MoreSettings size="tool">
      {close => (
        <>
          <SentenceChoice
            before="Mallets:"
            help={HELP.mallets}
            value={malletFor(instrument, mallets[instrument])}
            choices={malletChoices(instrument)}
            onChoose={value => {
              desk.run(setMallet, value as MalletId);
            }}
          />
          <span class="sentence">
            <span>Timing:</span>
            <button
              class="plain word"
              onClick={() => {
                close();
                desk.run(showWindow, 'calibration');
              }}
            >
              {lined === 0 ? 'not lined up with the click' : 'lined up with the click'}
            </button>
          </span>
          <MicrophoneOfRoom />
          <SendingButton onOpen={close} />
          {desk.playSettings.value.clickOn ? null : (
            <MetreChoice before="What is played without a click is in" after="." />
          )}
          <SentenceNumber
            before="A phrase ends after"
            help={HELP.silence}
            after="seconds of silence."
            value={desk.playSettings.value.silence}
            least={0.5}
            most={10}
            step={0.5}
            onChoose={silence => {
              desk.run(setPlay, { silence });
            }}
          />
          <SentenceChoice
            before="Computer keys strike bars:"
            help={HELP.keysShown}
            value={desk.playSettings.value.keysShown ? 'shown' : 'hidden'}
            choices={[
              { value: 'hidden', text: 'not written on them' },
              { value: 'shown', text: 'written on each bar' },
            ]}
            onChoose={value => {
              desk.run(setPlay, { keysShown: value === 'shown' });
            }}
          />
          <SentenceChoice
            before="While you play,"
            value={desk.playSettings.value.writesAlong ? 'on' : 'off'}
            choices={[
              { value: 'on', text: 'the page writes itself' },
              { value: 'off', text: 'nothing is written' },
            ]}
            after="."
            onChoose={value => {
              desk.run(setPlay, { writesAlong: value === 'on' });
            }}
          />
          <SentenceChoice
            before="Catch"
            help={HELP.catch}
            value={String(desk.phrasesToCatch.value)}
            choices={[
              { value: '1', text: 'the last phrase' },
              { value: '2', text: 'the last two' },
              { value: '3', text: 'the last three' },
              { value: '999', text: 'everything' },
            ]}
            after="."
            onChoose={value => {
              desk.run(set, { phrasesToCatch: Number(value) });
            }}
          />
        </>
      )}
    </MoreSettings>
  );
};
