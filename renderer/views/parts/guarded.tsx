import { Component, type ComponentChildren } from 'preact';
import { detailOf } from '../../../core/foundation/result.ts';
import { AppContext } from '../../desk/appContext.ts';
import type { AppParts } from '../../desk/appParts.ts';
import { undoStep } from '../../desk/commands/step.ts';
import type { View } from '../../desk/session.ts';

const NAMES: Readonly<Record<View, string>> = { play: 'Play', write: 'Write', grow: 'Grow', keep: 'Keep' };

/**
 * An error boundary round a view: where it cannot be drawn, it says what happened, what was kept and
 * what to do, and the other views stay reachable.
 */
export class Guarded extends Component<
  {
    readonly name: View;
    /** What is said in place of the teacher's words. */
    readonly words?: { readonly broke: string; readonly undo: string; readonly again: string };
    readonly children: ComponentChildren;
  },
  { readonly broke: string | undefined }
> {
  static override contextType = AppContext;
  override state: { readonly broke: string | undefined } = { broke: undefined };

  static override getDerivedStateFromError(thrown: unknown): { broke: string } {
    return { broke: detailOf(thrown) };
  }

  override render(): ComponentChildren {
    const { broke } = this.state;
    const { words } = this.props;
    if (broke === undefined) return this.props.children;
    const app = this.context as AppParts | undefined;
    const again = (): void => {
      this.setState({ broke: undefined });
    };
    return (
      <section class="broken" role="alert">
        <h2>{words?.broke ?? `${NAMES[this.props.name]} could not be shown.`}</h2>
        {words === undefined ? (
          <p>
            The take, the piece and everything that can be undone are still here. Go to another place, undo
            the last step, or show it again.
          </p>
        ) : null}
        <p class="row-tools">
          <button
            class="second"
            onClick={() => {
              app?.asking.afterwards(undoStep);
              again();
            }}
          >
            {words?.undo ?? 'Undo the last step'}
          </button>
          <button class="second" onClick={again}>
            {words?.again ?? 'Show it again'}
          </button>
        </p>
        <details>
          <summary>For whoever helps</summary>
          <code>{broke}</code>
        </details>
      </section>
    );
  }
}
