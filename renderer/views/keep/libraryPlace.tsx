import type { ComponentChildren } from 'preact';
import { canChooseFolder, chooseFolder, openWaiting, waitingFolder } from '../../storage/chooseLibrary.ts';
import { library } from '../../store/keeping.ts';

/** Where the class library is, and a way to put it elsewhere. */
export const LibraryPlace = (): ComponentChildren => (
  <>
    <span class="sentence">
      The class library is in <b>{library.value?.where ?? 'no place yet'}</b>.
    </span>
    {waitingFolder.value === undefined ? null : (
      <button class="tool" onClick={() => void openWaiting()}>
        open the folder “{waitingFolder.value}” again
      </button>
    )}
    {canChooseFolder() ? (
      <button class="tool" onClick={() => void chooseFolder()}>
        choose a folder
      </button>
    ) : null}
  </>
);
