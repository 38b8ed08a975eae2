import type { ComponentChildren } from 'preact';
import { say } from '../../../core/foundation/result.ts';
import { useApp } from '../../desk/appContext.ts';
import { DEMO_TAKES } from '../../desk/demoTakes.ts';
import { Drop } from '../parts/drop.tsx';

/** The invented takes, each one press. */
const OurIdeas = (props: { onDone?: () => void }): ComponentChildren => {
  const { opening } = useApp();
  return DEMO_TAKES.map(demo => (
    <button
      key={demo.file}
      class="second"
      title={demo.about}
      onClick={() => {
        props.onDone?.();
        void opening.demo(demo.file);
      }}
    >
      {demo.title}
    </button>
  ));
};

/** What there is to open besides what was struck: a file, or an idea of ours. */
export const OpenOthers = (props: { onOpenFile: () => void }): ComponentChildren => (
  <>
    <button class="tool" onClick={props.onOpenFile}>
      Open a file
    </button>
    <Drop class="tool" text="Ideas of ours" panelLabel="Ideas of ours" panelClass="settings-panel">
      {close => (
        <div class="demo-row">
          <OurIdeas onDone={close} />
        </div>
      )}
    </Drop>
  </>
);

/** What the first run offers where nobody has struck anything yet. */
export const Demo = (props: { onOpenFile: () => void }): ComponentChildren => {
  const { desk, roomBars } = useApp();
  const hint = desk.midiHint.value;
  return (
    <div class="demo">
      <p>
        <b>Strike any bar to begin.</b> No instrument at hand? Try an idea of ours, or open a MIDI file or a
        recording of struck bars.
      </p>
      {hint === undefined || hint.kind === 'midi-silent' ? null : <p class="quiet">{say(hint)}</p>}
      <div class="demo-row">
        <OurIdeas />
        <button class="second" onClick={props.onOpenFile}>
          Open a file
        </button>
        <button
          class="second"
          disabled={desk.roomEar.value !== undefined}
          onClick={() => {
            roomBars.listen({ hears: 'bars', through: 'loudspeaker' });
          }}
        >
          Listen to the bars in the room
        </button>
      </div>
    </div>
  );
};
