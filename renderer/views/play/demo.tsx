import type { ComponentChildren } from 'preact';
import { useApp } from '../../desk/appContext.ts';
import { DEMO_TAKES } from '../../desk/demoTakes.ts';

/** What the first run offers where nobody has struck anything yet. */
export const Demo = (props: { onOpenFile: () => void }): ComponentChildren => {
  const { desk, opening, roomBars } = useApp();
  return (
    <div class="demo">
      <p>
        <b>Strike any bar to begin.</b> No instrument at hand? Try an idea of ours, or open a MIDI file or a
        recording of struck bars.
      </p>
      <div class="demo-row">
        {DEMO_TAKES.map(demo => (
          <button
            key={demo.file}
            class="second"
            title={demo.about}
            onClick={() => {
              void opening.demo(demo.file);
            }}
          >
            {demo.title}
          </button>
        ))}
        <button class="second" onClick={props.onOpenFile}>
          Open a file
        </button>
        <button
          class="second"
          disabled={desk.roomEar.value !== undefined}
          onClick={() => {
            roomBars.listen('loudspeaker');
          }}
        >
          Listen to the bars in the room
        </button>
      </div>
    </div>
  );
};
