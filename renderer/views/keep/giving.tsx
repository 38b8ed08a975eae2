import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Pupil } from '../../../core/piece/pupil.ts';
import { PupilList } from '../parts/pupilChooser.tsx';

/** Asks to whom a piece of the register is given. */
export const Giving = (props: {
  of: string;
  onGive: (pupil: Pupil | undefined) => void;
  onClose: () => void;
}): ComponentChildren => {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    dialog.current?.showModal();
  }, []);
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
