import type { ComponentChildren } from 'preact';
import { takenStep, tryAnyway } from '../../store/develop.ts';

/** Where a part plays already: the two ways out, in plain words. */
export const Taken = (props: { hearPreview: () => void }): ComponentChildren => {
  if (takenStep.value === undefined) return null;
  const choose = (how: 'cut' | 'postpone') => (): void => {
    if (tryAnyway(how)) props.hearPreview();
  };
  return (
    <div class="taken" role="group" aria-label="The part plays there already">
      <span>The part plays there already.</span>
      <button class="second" onClick={choose('postpone')}>
        Wait until it is free
      </button>
      <button class="second" onClick={choose('cut')}>
        Cut what is there
      </button>
    </div>
  );
};
