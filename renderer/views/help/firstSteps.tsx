import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { useApp } from '../../desk/appContext.ts';
import { isTheirs } from '../../desk/commands/turns.ts';
import { FIRST_STEPS, firstStep } from '../../desk/firstStep.ts';
import { lead } from '../../desk/commands/settings.ts';
import { setFirstStepsOver } from '../../storage/firstSteps.ts';
import { FIRST_STEP_WORDS } from './helpWords.ts';

/**
 * The first minutes: one sentence at a time, each done by doing it, in a line over the foot. It stands in no other
 * view's way: header, sentence and foot stay where they are, with it and without it.
 */
export const FirstSteps = (): ComponentChildren => {
  const { desk } = useApp();
  const isLed = desk.isLed.value;
  const step = firstStep({
    strikes: desk.memory.value.strikes.filter(strike => isTheirs(desk.session.value, strike)).length,
    piece: desk.piece.value,
    view: desk.view.value,
    isKept: desk.isKept.value,
  });
  const before = useRef(step);
  const end = (): void => {
    setFirstStepsOver(true);
    desk.run(lead, false);
  };
  useEffect(() => {
    // A piece that was kept long ago and is opened is not the end of the way.
    if (isLed && step === undefined && before.current === 'keep') end();
    before.current = step;
  }, [step, isLed]);
  // The pupil view says one thing at a time, in its own words.
  if (!isLed || desk.isPupilView.value || step === undefined) return null;
  return (
    <div class="first-steps" role="note" aria-label="First steps">
      <span class="first-steps-count">
        {FIRST_STEPS.indexOf(step) + 1} of {FIRST_STEPS.length}
      </span>
      <span>{FIRST_STEP_WORDS[step]}</span>
      <button class="plain word" onClick={end}>
        I know my way
      </button>
    </div>
  );
};
