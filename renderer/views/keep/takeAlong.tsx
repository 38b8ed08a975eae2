import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { useApp } from '../../desk/appContext.ts';
import { rememberTakeAlong, wasAskedToTakeAlong } from '../../storage/takenAlong.ts';

/** Said once, where something is kept that only a browser holds which may clear it. */
export const TakeAlong = (): ComponentChildren => {
  const { desk, carrying } = useApp();
  const { mayBeCleared, entries } = desk.library.value;
  const [isAnswered, setAnswered] = useState(wasAskedToTakeAlong);
  if (!mayBeCleared || entries.length === 0 || isAnswered) return null;
  const answer = (): void => {
    rememberTakeAlong();
    setAnswered(true);
  };
  return (
    <section class="take-along" aria-label="Take the work along">
      <p>
        Only this browser holds this work, and it may clear it when the disk is full. A portable file holds it
        too, and opens on any machine.
      </p>
      <button
        class="second"
        onClick={() => {
          answer();
          void carrying.make('everything', 'Class library');
        }}
      >
        Make a portable file
      </button>
      <button class="plain word" onClick={answer}>
        Not now
      </button>
    </section>
  );
};
