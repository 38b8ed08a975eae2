import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import { PORTABLE_ENDING } from './desk/acts/carrying.ts';
import { openAny } from './desk/acts/openAny.ts';
import { useApp } from './desk/appContext.ts';
import { About } from './views/about.tsx';
import { Calibrate } from './views/calibrate.tsx';
import { Classes } from './views/classes.tsx';
import { Grow } from './views/grow/index.tsx';
import { AssessmentWindow } from './views/keep/assessmentWindow.tsx';
import { Keep } from './views/keep/index.tsx';
import { Versions } from './views/keep/versions.tsx';
import { LearnBars } from './views/learnBars.tsx';
import { Keys } from './views/keys.tsx';
import { HelpTip } from './views/help/helpTip.tsx';
import { Guarded } from './views/parts/guarded.tsx';
import { Play } from './views/play/index.tsx';
import { Projector } from './views/projector.tsx';
import { PupilView } from './views/pupil/index.tsx';
import { usePupilTexts } from './views/pupil/texts/pupilTexts.ts';
import { SendingWindow } from './views/sendingWindow.tsx';
import { Shell } from './views/shell.tsx';
import { Write } from './views/write/index.tsx';

/** The whole window: the view one is in, in its frame; files can be dropped anywhere. */
export const App = (): ComponentChildren => {
  const app = useApp();
  const { desk } = app;
  const chooser = useRef<HTMLInputElement>(null);
  const texts = usePupilTexts();
  const view = desk.view.value;
  const chooseFile = (): void => chooser.current?.click();
  const openFile = (file: File): void => {
    void openAny(app, file);
  };
  return (
    <div
      class="drop"
      onDragOver={event => {
        event.preventDefault();
      }}
      onDrop={event => {
        event.preventDefault();
        const file = event.dataTransfer?.files[0];
        if (file !== undefined) openFile(file);
      }}
    >
      {desk.isPupilView.value ? (
        <Guarded
          key="pupil"
          name={view}
          words={{ broke: texts.words.broken, undo: texts.buttons.takeBack, again: texts.buttons.again }}
        >
          <PupilView />
        </Guarded>
      ) : (
        <Shell>
          <Guarded key={view} name={view}>
            {view === 'play' ? <Play onOpenFile={chooseFile} /> : null}
            {view === 'write' ? <Write /> : null}
            {view === 'grow' ? <Grow /> : null}
            {view === 'keep' ? <Keep onOpenFile={chooseFile} /> : null}
          </Guarded>
        </Shell>
      )}
      <input
        ref={chooser}
        type="file"
        accept={`.mid,.midi,audio/midi,.wav,audio/*,${PORTABLE_ENDING}`}
        class="unseen"
        hidden
        aria-label="Open a MIDI file, a recording or a portable file"
        onChange={event => {
          const file = event.currentTarget.files?.[0];
          event.currentTarget.value = '';
          if (file !== undefined) openFile(file);
        }}
      />
      <HelpTip />
      {desk.window.value === 'calibration' ? <Calibrate /> : null}
      {desk.window.value === 'learning' ? <LearnBars /> : null}
      {desk.window.value === 'sending' ? <SendingWindow /> : null}
      {desk.window.value === 'keys' ? <Keys /> : null}
      {desk.window.value === 'about' ? <About /> : null}
      {desk.window.value === 'classes' ? <Classes /> : null}
      {desk.window.value === 'projector' ? <Projector /> : null}
      {desk.window.value === 'versions' ? <Versions /> : null}
      {desk.window.value === 'assessment' ? <AssessmentWindow /> : null}
    </div>
  );
};
