import type { ComponentChildren } from 'preact';
import { useApp } from '../../desk/appContext.ts';
import { showWindow } from '../../desk/commands/settings.ts';

/** Opens what is chosen about MIDI out, and says where pages are sent now. */
export const SendingButton = (props: { onOpen?: () => void }): ComponentChildren => {
  const { desk } = useApp();
  const to = desk.sentTo.value?.name;
  return (
    <span class="sentence">
      <span>MIDI out:</span>
      <button
        class="plain word"
        title="The parts can sound on another instrument"
        onClick={() => {
          props.onOpen?.();
          desk.run(showWindow, 'sending');
        }}
      >
        {to === undefined ? 'nothing' : `“${to}”`}
      </button>
    </span>
  );
};
