import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import { place } from './store/app.ts';
import type { Listening } from './store/hear.ts';
import { keysShown } from './store/keys.ts';
import type { Live } from './store/live.ts';
import { openDemo, openFile } from './store/openFile.ts';
import { type Calibration, calibrationShown } from './store/calibration.ts';
import type { Tapping } from './store/tapping.ts';
import type { Sound } from './sound/sound.ts';
import { Calibrate } from './views/calibrate.tsx';
import { Grow } from './views/grow/index.tsx';
import { Keep } from './views/keep/index.tsx';
import { Keys } from './views/keys.tsx';
import { Play } from './views/play/index.tsx';
import { Shell } from './views/shell.tsx';
import { Write } from './views/write/index.tsx';

/** The whole window: the place one is in, in its frame; files can be dropped anywhere. */
export const App = (props: {
  live: Live;
  listening: Listening;
  tapping: Tapping;
  calibration: Calibration;
  sound: Sound;
  lookForMidi: () => void;
}): ComponentChildren => {
  const chooser = useRef<HTMLInputElement>(null);
  return (
    <div
      class="drop"
      onDragOver={event => {
        event.preventDefault();
      }}
      onDrop={event => {
        event.preventDefault();
        const file = event.dataTransfer?.files[0];
        if (file !== undefined) void openFile(file);
      }}
    >
      <Shell
        onKeys={() => {
          keysShown.value = true;
        }}
      >
        {place.value === 'play' ? (
          <Play
            live={props.live}
            onOpenFile={() => chooser.current?.click()}
            onDemo={file => {
              void openDemo(file);
            }}
          />
        ) : null}
        {place.value === 'write' ? <Write listening={props.listening} tapping={props.tapping} /> : null}
        {place.value === 'grow' ? <Grow listening={props.listening} /> : null}
        {place.value === 'keep' ? <Keep sound={props.sound} /> : null}
      </Shell>
      <input
        ref={chooser}
        type="file"
        accept=".mid,.midi,audio/midi"
        class="unseen"
        hidden
        aria-label="Open a MIDI file"
        onChange={event => {
          const file = event.currentTarget.files?.[0];
          event.currentTarget.value = '';
          if (file !== undefined) void openFile(file);
        }}
      />
      {calibrationShown.value ? <Calibrate calibration={props.calibration} /> : null}
      {keysShown.value ? <Keys sound={props.sound} lookForMidi={props.lookForMidi} /> : null}
    </div>
  );
};
