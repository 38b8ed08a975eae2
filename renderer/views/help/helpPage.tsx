import type { ComponentChildren } from 'preact';
import { useApp } from '../../desk/appContext.ts';
import { lead, showWindow } from '../../desk/commands/settings.ts';
import { setFirstStepsOver } from '../../storage/firstSteps.ts';
import { PLACES_IN_WORDS } from './helpWords.ts';

/** The four places in a few words, and where more is said. */
export const HelpPage = (): ComponentChildren => {
  const { desk } = useApp();
  return (
    <section class="help-page" aria-label="Help">
      <dl>
        {PLACES_IN_WORDS.map(({ place, words }) => (
          <div key={place}>
            <dt>{place}</dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
      <p>
        What a word or button means is shown beside it: rest the mouse on it, reach it with the Tab key, or
        hold a finger on it.{' '}
        <button
          class="tool"
          onClick={() => {
            setFirstStepsOver(false);
            desk.run(lead, true);
            desk.run(showWindow, undefined);
          }}
        >
          Show me the first steps
        </button>
      </p>
    </section>
  );
};
