import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { Pupil } from '../../../core/piece/pupil.ts';
import { useApp } from '../../desk/appContext.ts';
import { choosePupil } from '../../desk/commands/pupils.ts';
import { PupilFrame, type WayBack } from './pupilFrame.tsx';
import { usePupilTexts } from './texts/pupilTexts.ts';

/** With the other buttons of this screen that makes ten. */
const NAMES_AT_A_TIME = 4;

/** Who may sit down here: everybody on the list of the class, or of every class where none is chosen. */
export const usePupils = (): readonly Pupil[] => {
  const { desk } = useApp();
  const here = desk.classNow.value;
  return (here === undefined ? desk.classes.value : [here]).flatMap(({ name, pupils, groups }) =>
    [...pupils, ...groups.map(group => group.name)].map(codeName => ({ codeName, className: name })),
  );
};

/** The pupil presses their own name, a few at a time. */
export const WhoStep = (props: { back: WayBack; onDone: () => void }): ComponentChildren => {
  const { desk } = useApp();
  const texts = usePupilTexts();
  const pupils = usePupils();
  const [from, setFrom] = useState(0);
  const shown = pupils.slice(from, from + NAMES_AT_A_TIME);
  return (
    <PupilFrame
      back={props.back}
      instruction={texts.words.who}
      hear={undefined}
      action={
        <>
          <button class="second" onClick={props.onDone}>
            {texts.buttons.notHere}
          </button>
          <button
            class="main-action"
            disabled={pupils.length <= NAMES_AT_A_TIME}
            onClick={() => {
              setFrom(from + NAMES_AT_A_TIME >= pupils.length ? 0 : from + NAMES_AT_A_TIME);
            }}
          >
            {texts.buttons.otherNames}
          </button>
        </>
      }
    >
      <ul class="pupil-cards names">
        {shown.map(pupil => (
          <li key={`${pupil.className} ${pupil.codeName}`}>
            <button
              class="pupil-card"
              onClick={() => {
                desk.run(choosePupil, pupil);
                props.onDone();
              }}
            >
              <b>{pupil.codeName}</b>
              <span class="quiet">{pupil.className}</span>
            </button>
          </li>
        ))}
      </ul>
    </PupilFrame>
  );
};
