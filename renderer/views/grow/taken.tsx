import type { ComponentChildren } from 'preact';
import { useApp } from '../../desk/appContext.ts';
import { tryAnyway } from '../../desk/commands/trial.ts';

/** Where a part plays already: the two ways out, in plain words. */
export const Taken = (props: { hearPreview: () => void }): ComponentChildren => {
  const { desk } = useApp();
  const conflict = desk.conflict.value;
  if (conflict === undefined) return null;
  // What becomes longer where it stands stays there.
  const stays = conflict.step.kind === 'repeat' || conflict.step.kind === 'change';
  const choose = (how: 'cut' | 'postpone') => (): void => {
    desk.run(tryAnyway, how);
    if (desk.trial.peek() !== undefined) props.hearPreview();
  };
  return (
    <div class="taken" role="group" aria-label="The part plays there already">
      <span>The part plays there already.</span>
      <button class="second" onClick={choose('postpone')}>
        {stays ? 'Let what follows wait' : 'Wait until it is free'}
      </button>
      <button class="second" onClick={choose('cut')}>
        Cut what is there
      </button>
    </div>
  );
};
