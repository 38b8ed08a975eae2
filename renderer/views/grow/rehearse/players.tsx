import type { ComponentChildren } from 'preact';
import type { Plan } from '../../../../core/plan/plan.ts';
import { partName } from '../../../../core/plan/partList.ts';
import { useApp } from '../../../desk/appContext.ts';
import { givePlayer } from '../../../desk/commands/rehearsal.ts';
import { SentenceChoice } from '../../parts/sentence.tsx';

/** One part each: which device plays which part, by its name; the others play the part chosen above. */
export const PlayerParts = (props: { plan: Plan }): ComponentChildren => {
  const { desk } = useApp();
  const { plan } = props;
  const { players } = desk.rehearsal.value;
  const devices = [...new Set(desk.devices.value)];
  if (plan.parts.length < 2 || devices.length === 0) return null;
  return (
    <details class="players" open={devices.some(device => players[device] !== undefined)}>
      <summary>Several players, a part each</summary>
      {devices.map(device => (
        <SentenceChoice
          key={device}
          before={`${device} plays`}
          value={plan.parts.some(part => part.id === players[device]) ? (players[device] ?? '') : ''}
          choices={[
            { value: '', text: 'my part' },
            ...plan.parts.map(part => ({ value: part.id, text: partName(plan, part).toLowerCase() })),
          ]}
          onChoose={value => {
            desk.run(givePlayer, device, value === '' ? undefined : value);
          }}
        />
      ))}
    </details>
  );
};
