import type { ComponentChildren } from 'preact';
import { useApp } from '../../desk/appContext.ts';

/** Where the class library is, and a way to put it elsewhere. */
export const LibraryPlace = (): ComponentChildren => {
  const { desk, keeper } = useApp();
  const { where, waitingFolder } = desk.library.value;
  return (
    <>
      <span class="sentence">
        The class library is in <b>{where ?? 'no place yet'}.</b>
      </span>
      {waitingFolder === undefined ? null : (
        <button class="tool" onClick={() => void keeper.openWaiting()}>
          open the folder “{waitingFolder}” again
        </button>
      )}
      {keeper.canChooseFolder() ? (
        <button class="plain word" onClick={() => void keeper.chooseFolder()}>
          choose a folder
        </button>
      ) : null}
    </>
  );
};
