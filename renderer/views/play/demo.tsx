import type { ComponentChildren } from 'preact';
import { DEMO_TAKES } from '../../store/demo.ts';

/** What the first run offers where nobody has struck anything yet. */
export const Demo = (props: {
  onOpenFile: () => void;
  onDemo: (file: string) => void;
}): ComponentChildren => (
  <div class="demo">
    <p>
      <b>Strike any bar to begin.</b> No instrument at hand? Try an idea of ours, or open a MIDI file.
    </p>
    <div class="demo-row">
      {DEMO_TAKES.map(demo => (
        <button
          key={demo.file}
          class="second"
          title={demo.about}
          onClick={() => {
            props.onDemo(demo.file);
          }}
        >
          {demo.title}
        </button>
      ))}
      <button class="second" onClick={props.onOpenFile}>
        Open a MIDI file
      </button>
    </div>
  </div>
);
