import type { ComponentChildren } from 'preact';
import { useApp } from '../../desk/appContext.ts';
import { showWindow } from '../../desk/commands/settings.ts';

/** One press, and the page alone fills the screen. */
export const ProjectorButton = (props: { class?: string }): ComponentChildren => {
  const { desk, listening } = useApp();
  return (
    <button
      class={props.class ?? 'tool'}
      title="P: the page alone, large"
      onClick={() => {
        listening.stop();
        desk.run(showWindow, 'projector');
      }}
    >
      Projector
    </button>
  );
};
