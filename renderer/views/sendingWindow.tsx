import type { ComponentChildren } from 'preact';
import { useApp } from '../desk/appContext.ts';
import { setSends } from '../desk/commands/sending.ts';
import { showWindow } from '../desk/commands/settings.ts';
import { SentenceChoice, SentenceNumber } from './parts/sentence.tsx';
import { useShownWindow } from './parts/shownWindow.ts';

const YES_NO = (yes: string, no: string): readonly { readonly value: string; readonly text: string }[] => [
  { value: 'yes', text: yes },
  { value: 'no', text: no },
];

/** MIDI out: where what is heard of a page is sent, too, and how. */
export const SendingWindow = (): ComponentChildren => {
  const { desk, sending, lookForMidi } = useApp();
  const dialog = useShownWindow();
  const outputs = desk.outputs.value;
  const settings = desk.sends.value;
  return (
    <dialog
      ref={dialog}
      class="card keys calibrate"
      aria-labelledby="sending-title"
      onClose={() => {
        desk.run(showWindow, undefined);
      }}
    >
      <h2 id="sending-title">MIDI out</h2>
      <p>
        What Hear, Rehearse and the projector play of a page can be played by another instrument, too. Nothing
        is sent before one is chosen here, and a new start chooses none.
      </p>
      <div class="sentences">
        <SentenceChoice
          before="Pages are sent to"
          value={desk.sentTo.value?.id ?? ''}
          choices={[
            { value: '', text: 'nothing' },
            ...outputs.map(({ id, name }) => ({ value: id, text: `“${name}”` })),
          ]}
          after="."
          onChoose={id => void sending.choose(id === '' ? undefined : id)}
        />
        {outputs.length > 0 ? null : (
          <span class="sentence">
            No instrument to send to is plugged in.{' '}
            <button class="plain word" onClick={lookForMidi}>
              look again
            </button>
          </span>
        )}
        <span class="sentence-group">
          <SentenceChoice
            before="Parts have"
            value={settings.isOwn ? 'yes' : 'no'}
            choices={YES_NO('a channel each,', 'one channel for all:')}
            onChoose={value => {
              desk.run(setSends, { isOwn: value === 'yes' });
            }}
          />
          <SentenceNumber
            before={settings.isOwn ? 'from channel' : 'channel'}
            value={settings.channel + 1}
            least={1}
            most={16}
            after={settings.isOwn ? 'on.' : '.'}
            onChoose={value => {
              desk.run(setSends, { channel: Math.round(value) - 1 });
            }}
          />
        </span>
        <SentenceChoice
          before="Its sounds are"
          value={settings.setsSounds ? 'yes' : 'no'}
          choices={YES_NO('set as General MIDI has them', 'those it is set to')}
          after="."
          onChoose={value => {
            desk.run(setSends, { setsSounds: value === 'yes' });
          }}
        />
        <SentenceChoice
          before="Meanwhile"
          value={settings.soundsHere ? 'yes' : 'no'}
          choices={YES_NO('it sounds here, too', 'only the click sounds here')}
          after="."
          onChoose={value => {
            desk.run(setSends, { soundsHere: value === 'yes' });
          }}
        />
        <SentenceChoice
          before="MIDI clock"
          value={settings.clock ? 'yes' : 'no'}
          choices={YES_NO('goes with it', 'is not sent')}
          after="."
          onChoose={value => {
            desk.run(setSends, { clock: value === 'yes' });
          }}
        />
      </div>
      <div class="dialog-foot">
        <form method="dialog">
          <button class="second">Close</button>
        </form>
      </div>
    </dialog>
  );
};
