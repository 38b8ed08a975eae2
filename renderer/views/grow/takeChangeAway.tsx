import type { ComponentChildren } from 'preact';
import { metreInWords } from '../../../core/foundation/metre.ts';
import { keyName } from '../../../core/foundation/key.ts';
import type { BarNumber } from '../../../core/foundation/units.ts';
import { withoutKeyAt } from '../../../core/growing/changeKey.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { useApp } from '../../desk/appContext.ts';
import { changePlan, growNow } from '../../desk/commands/trial.ts';
import { keyWritten } from './otherKeys.ts';
import { metreBefore, metreChangeAt } from './otherMetres.ts';

interface At {
  readonly motif: Motif;
  readonly plan: Plan;
  readonly bar: BarNumber;
}

/** The metre from a bar (from 1) on goes back to the one before, with everything that followed from it. */
export const useMetreAway = ({
  motif,
  plan,
  bar,
}: Omit<At, 'motif'> & { motif: Pick<Motif, 'metre'> }): (() => void) => {
  const { desk } = useApp();
  return () => {
    const to = metreBefore(motif, plan, bar);
    const statement = plan.statements[0]?.id ?? '';
    desk.run(growNow, `no other metre at bar ${String(bar)}`, { kind: 'metre', statement, bar, to });
  };
};

/** The key from a bar (from 1) on goes back to the one before. */
export const useKeyAway = ({ bar }: Pick<At, 'bar'>): (() => void) => {
  const { desk } = useApp();
  return () => {
    desk.run(changePlan, `no other key at bar ${String(bar)}`, old => withoutKeyAt(old, bar));
  };
};

const Away = (props: { stands: string; onAway: () => void }): ComponentChildren => (
  <p class="take-away">
    {props.stands}{' '}
    <button class="tool" onClick={props.onAway}>
      Take the change away
    </button>
  </p>
);

/** Where another metre begins at the bar: which, and a button that takes it away. */
export const TakeMetreAway = (props: At): ComponentChildren => {
  const onAway = useMetreAway(props);
  const there = metreChangeAt(props.motif, props.plan, props.bar);
  return there === undefined ? null : (
    <Away stands={`${metreInWords(there.metre)} begins there now.`} onAway={onAway} />
  );
};

/** Where another key begins at the bar: which, and a button that takes it away. */
export const TakeKeyAway = (props: At): ComponentChildren => {
  const onAway = useKeyAway(props);
  const there = props.plan.keys?.find(k => k.bar === props.bar - 1);
  return there === undefined ? null : (
    <Away stands={`${keyName(keyWritten(props.motif.key, there))} begins there now.`} onAway={onAway} />
  );
};
