import type { ComponentChildren } from 'preact';
import { Drop } from './drop.tsx';

/** What is seldom changed in a place, behind one button. */
export const MoreSettings = (props: {
  /** Of the button: as large as its neighbours. */
  size: 'second' | 'tool';
  children: (close: () => void) => ComponentChildren;
}): ComponentChildren => (
  <Drop
    class={`${props.size} more-settings`}
    text={
      <>
        <span>More settings</span>
        <span class="caret ink" aria-hidden="true" />
      </>
    }
    panelLabel="More settings"
    panelClass="settings-panel"
  >
    {close => <div class="sentences">{props.children(close)}</div>}
  </Drop>
);
