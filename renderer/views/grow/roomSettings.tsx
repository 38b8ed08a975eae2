import type { ComponentChildren } from 'preact';
import { type HandLimits, LEAST_LIMIT, MOST_LIMIT } from '../../../core/playable/limits.ts';
import { addRoom, changeRoom, enterRoom, room, rooms } from '../../store/room.ts';
import { SentenceChoice, SentenceNumber } from '../parts/sentence.tsx';

const LIMITS: readonly { readonly of: keyof HandLimits; readonly before: string }[] = [
  { of: 'sameHand', before: 'one hand twice,' },
  { of: 'alternating', before: 'hand after hand,' },
  { of: 'hardCap', before: 'never faster than' },
  { of: 'leap', before: 'a leap over an octave,' },
];

/** Which room this is, and how fast its players are taken to be. */
export const RoomSettings = (): ComponentChildren => {
  const now = room.value;
  return (
    <details class="room-settings">
      <summary>{now.name}: this machine’s room, and how fast its players are</summary>
      <p class="sentences small">
        <SentenceChoice
          before="This is the"
          value={now.id}
          choices={rooms.value.all.map(r => ({ value: r.id, text: r.name }))}
          onChoose={enterRoom}
        />
        <label class="sentence">
          called
          <input
            class="part-own-name"
            value={now.name}
            maxLength={40}
            onChange={event => {
              const name = event.currentTarget.value.trim();
              if (name !== '' && name !== now.name)
                changeRoom(`call the room ${name}`, old => ({ ...old, name }));
              event.currentTarget.value = name === '' ? now.name : name;
            }}
          />
        </label>
        <button class="tool" onClick={addRoom}>
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
              changeRoom(`${before.replace(/,$/, '')} ${String(value)} ms`, old => ({
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
