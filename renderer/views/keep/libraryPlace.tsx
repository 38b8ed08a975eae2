import type { ComponentChildren } from 'preact';
import { useApp } from '../../desk/appContext.ts';
import { Drop } from '../parts/drop.tsx';

/** Where the class library is, and what can be done with all of it. */
export const LibraryPlace = (props: { onOpenFile: () => void }): ComponentChildren => {
  const { desk, keeper, carrying } = useApp();
  const { where, waitingFolder } = desk.library.value;
  const things = [
    { text: 'Bring in a portable file', run: props.onOpenFile },
    {
      text: 'Everything in one portable file',
      run: () => void carrying.make('everything', 'Class library'),
    },
    { text: 'Check that everything can be read', run: () => void carrying.check() },
    ...(keeper.canChooseFolder()
      ? [{ text: 'Choose another folder', run: () => void keeper.chooseFolder() }]
      : []),
  ];
  return (
    <>
      <span>The class library is in</span>
      <Drop
        class="plain word"
        text={
          <>
            <b>{where ?? 'no place yet'}</b>
            <span class="caret" aria-hidden="true" />
          </>
        }
        panelLabel="The class library"
        panelClass="menu"
        menu
      >
        {close =>
          things.map(({ text, run }) => (
            <button
              key={text}
              class="menu-item"
              onClick={() => {
                close();
                run();
              }}
            >
              {text}
            </button>
          ))
        }
      </Drop>
      {waitingFolder === undefined ? null : (
        <button class="tool" onClick={() => void keeper.openWaiting()}>
          open the folder “{waitingFolder}” again
        </button>
      )}
    </>
  );
};
