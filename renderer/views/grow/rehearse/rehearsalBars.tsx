import type { ComponentChildren } from 'preact';
import type { Plan } from '../../../../core/plan/plan.ts';
import { useApp } from '../../../desk/appContext.ts';
import { partOfDevice } from '../../../desk/commands/rehearsal.ts';
import { Bars } from '../../play/bars.tsx';

/** As the bars on the screen are called wherever strikes are told of. */
const SCREEN = 'Bars on the screen';

/** Bars to strike with mouse, touch or pen, under the page that is played along to. */
export const RehearsalBars = (props: { plan: Plan }): ComponentChildren => {
  const { desk } = useApp();
  const instrument = partOfDevice(props.plan, desk.rehearsal.value, SCREEN)?.instrument ?? 'xylophone';
  return (
    <div class="rehearsal-bars">
      <Bars instrument={instrument} lifting={false} />
    </div>
  );
};
