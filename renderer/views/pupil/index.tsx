import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { useApp } from '../../desk/appContext.ts';
import { rehearse } from '../../desk/commands/rehearsal.ts';
import { goTo, showPupilView } from '../../desk/commands/settings.ts';
import { leaveTrial } from '../../desk/commands/trial.ts';
import type { View } from '../../desk/session.ts';
import { AlongStep } from './alongStep.tsx';
import { GrowStep } from './growStep.tsx';
import { KeepStep } from './keepStep.tsx';
import { PlayStep } from './playStep.tsx';
import type { WayBack } from './pupilFrame.tsx';
import { usePupilTexts } from './texts/pupilTexts.ts';
import { usePupils, WhoStep } from './whoStep.tsx';
import { WriteStep } from './writeStep.tsx';

/** The pupil view: the same four places, one thing to do at a time, and nothing that only a teacher needs. */
export const PupilView = (): ComponentChildren => {
  const { desk, listening } = useApp();
  const texts = usePupilTexts();
  const pupils = usePupils();
  const [isNobody, setNobody] = useState(false);
  const view = desk.piece.value === undefined ? 'play' : desk.view.value;
  const to = (place: View): WayBack => ({
    text: texts.buttons.back,
    go: () => {
      listening.stop();
      desk.run(leaveTrial);
      desk.run(goTo, place);
    },
  });
  const toTeacher: WayBack = {
    text: texts.buttons.teacher,
    go: () => {
      listening.stop();
      desk.run(showPupilView, false);
    },
  };
  if (view === 'write') return <WriteStep back={to('play')} />;
  if (desk.isRehearsing.value)
    return (
      <AlongStep
        back={{
          text: texts.buttons.back,
          go: () => {
            listening.stop();
            desk.run(rehearse, false);
            desk.run(goTo, 'keep');
          },
        }}
      />
    );
  if (view === 'grow') return <GrowStep back={to('write')} />;
  if (view === 'keep') return <KeepStep back={to('grow')} />;
  if (desk.pupil.value === undefined && pupils.length > 0 && !isNobody)
    return (
      <WhoStep
        back={toTeacher}
        onDone={() => {
          setNobody(true);
        }}
      />
    );
  return <PlayStep back={toTeacher} />;
};
