import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
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
