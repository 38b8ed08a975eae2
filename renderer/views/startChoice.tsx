import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { useApp } from '../desk/appContext.ts';
import { set } from '../desk/commands/settings.ts';
import { storePupilLanguage } from '../storage/pupilLanguage.ts';
import { type StartView, storedStartView, storeStartView } from '../storage/startView.ts';
import { SentenceChoice } from './parts/sentence.tsx';

/** What this machine shows when the app is opened on it. */
export const StartChoice = (): ComponentChildren => {
  const [start, setStart] = useState(storedStartView);
  return (
    <SentenceChoice
      before="This machine starts in"
      value={start}
      choices={[
        { value: 'teacher', text: 'the teacher’s view' },
        { value: 'pupil', text: 'the pupil view' },
      ]}
      after="."
      onChoose={value => {
        const chosen: StartView = value === 'pupil' ? 'pupil' : 'teacher';
        storeStartView(chosen);
        setStart(chosen);
      }}
    />
  );
};

/** What the pupil view speaks on this machine; each language by its own name. */
export const PupilLanguageChoice = (): ComponentChildren => {
  const { desk } = useApp();
  return (
    <SentenceChoice
      before="The pupil view speaks"
      value={desk.pupilLanguage.value}
      choices={[
        { value: 'en', text: 'English' },
        { value: 'de', text: 'Deutsch' },
      ]}
      after="."
      onChoose={value => {
        const pupilLanguage = value === 'de' ? 'de' : 'en';
        storePupilLanguage(pupilLanguage);
        desk.run(set, { pupilLanguage });
      }}
    />
  );
};
