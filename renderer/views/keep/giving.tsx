import type { ComponentChildren } from 'preact';
import type { Pupil } from '../../../core/piece/pupil.ts';
import { PupilList } from '../parts/pupilChooser.tsx';
import { useShownWindow } from '../parts/shownWindow.ts';

/** Asks to whom a piece of the register is given. */
export const Giving = (props: {
  of: string;
  onGive: (pupil: Pupil | undefined) => void;
  onClose: () => void;
}): ComponentChildren => {
  const dialog = useShownWindow();
  return (
    <dialog
      ref={dialog}
      class="card chooser giving"
      aria-label={`Give ${props.of} to`}
      onClose={props.onClose}
      onClick={event => {
        event.stopPropagation();
      }}
    >
      <PupilList
        heading={`Give ${props.of} to`}
        offersNobody
        onChoose={pupil => {
          dialog.current?.close();
          props.onGive(pupil);
        }}
      >
        <button class="plain word" onClick={() => dialog.current?.close()}>
          Leave it
        </button>
      </PupilList>
    </dialog>
  );
};
