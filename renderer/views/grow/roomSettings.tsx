import type { ComponentChildren } from 'preact';
import { type HandLimits, LEAST_LIMIT, MOST_LIMIT } from '../../../core/playable/limits.ts';
import { useApp } from '../../desk/appContext.ts';
import { addRoom, changeRoom, enterRoom } from '../../desk/commands/room.ts';
import { SentenceChoice, SentenceNumber } from '../parts/sentence.tsx';
import { useTyping } from '../parts/typing.ts';

const LIMITS: readonly { readonly of: keyof HandLimits; readonly before: string }[] = [
  { of: 'sameHand', before: 'one hand twice,' },
  { of: 'alternating', before: 'hand after hand,' },
  { of: 'hardCap', before: 'never faster than' },
  { of: 'leap', before: 'a leap over an octave,' },
];

/** Which room this is, and how fast its players are taken to be. */
export const RoomSettings = (): ComponentChildren => {
  const { desk } = useApp();
  const now = desk.room.value;
  const typing = useTyping(now.name, typed => {
    const name = typed.trim();
    if (name !== '' && name !== now.name)
      desk.run(changeRoom, `call the room ${name}`, old => ({ ...old, name }));
  });
  return (
    <details class="room-settings">
      <summary>{now.name}: this machine’s room, and how fast its players are</summary>
      <p class="sentences small">
        <SentenceChoice
          before="This is the"
          value={now.id}
          choices={desk.rooms.value.all.map(r => ({ value: r.id, text: r.name }))}
          onChoose={id => {
            desk.run(enterRoom, id);
          }}
        />
        <label class="sentence">
          called
          <input class="part-own-name" {...typing} maxLength={40} />
        </label>
        <button
          class="tool"
          onClick={() => {
            desk.run(addRoom);
          }}
        >
          Add another room
        </button>
      </p>
      <p class="sentences small">
        <span>Warn below:</span>
        {LIMITS.map(({ of, before }) => (
          <SentenceNumber
            key={of}
            before={before}
            after="ms"
            value={now.limits[of]}
            least={LEAST_LIMIT}
            most={MOST_LIMIT}
            onChoose={value => {
              desk.run(changeRoom, `${before.replace(/,$/, '')} ${String(value)} ms`, old => ({
                ...old,
                limits: { ...old.limits, [of]: value },
              }));
            }}
          />
        ))}
        <span class="quiet">A rule of thumb for beginners; set it by your own players.</span>
      </p>
    </details>
  );
};
