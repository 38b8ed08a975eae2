import type { ComponentChildren } from 'preact';
import type { SoundTrouble } from '../../../core/hearing/soundWatch.ts';
import { useApp } from '../../desk/appContext.ts';
import type { RoomListening } from '../../desk/live.ts';
import { SentenceChoice } from '../parts/sentence.tsx';
import { HELP } from '../help/helpWords.ts';

/** Ways to listen, by the name of each in the menu. Claps want headphones: a click is heard as one of them. */
const WAYS: Readonly<Record<string, RoomListening>> = {
  loudspeaker: { hears: 'bars', through: 'loudspeaker' },
  headphones: { hears: 'bars', through: 'headphones' },
  claps: { hears: 'claps', through: 'headphones' },
};
const wayOf = (ear: RoomListening): string => (ear.hears === 'claps' ? 'claps' : ear.through);

const TROUBLES: Readonly<Record<SoundTrouble, string>> = {
  silent: 'No sound comes from the microphone: it may be switched off.',
  clipped: 'The strikes are too loud for the microphone: move it away a little.',
  noisy: 'It is loud in the room: bring the microphone nearer to what is struck.',
};

const and = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;

/**
 * What is struck: the screen, the keys, what is plugged in; and the bars in the room, if they are chosen here. They are
 * asked for nowhere by themselves.
 */
export const SourceChoice = (): ComponentChildren => {
  const { desk, roomBars } = useApp();
  const ear = desk.roomEar.value;
  const others = [
    'the screen',
    ...(desk.playSettings.value.keysPlay ? ['the keys'] : []),
    ...desk.devices.value.map(name => `“${name}”`),
  ];
  const withRoom = and([...others, 'the bars in the room']);
  const choices = [
    { value: 'off', text: and(others) },
    { value: 'loudspeaker', text: withRoom },
    { value: 'headphones', text: `${withRoom}, with headphones` },
    { value: 'claps', text: `${and([...others, 'claps in the room'])}, with headphones` },
  ];
  return (
    <SentenceChoice
      before="on"
      help={HELP.source}
      value={ear === undefined ? 'off' : wayOf(ear)}
      choices={choices}
      after="."
      onChoose={value => {
        const way = WAYS[value];
        if (way === undefined) roomBars.stop();
        else roomBars.listen(way);
      }}
    />
  );
};

/** Which microphone hears the room, where there are several; it is remembered on this machine. */
export const MicrophoneOfRoom = (): ComponentChildren => {
  const { desk, roomBars } = useApp();
  const ear = desk.roomEar.value;
  if (ear === undefined || ear.microphones.length < 2) return null;
  const isThere = ear.microphones.some(({ id }) => id === ear.microphone);
  return (
    <SentenceChoice
      before="Microphone:"
      wraps
      help={HELP.microphone}
      value={isThere ? ear.microphone : ''}
      choices={[
        { value: '', text: 'the system’s own' },
        ...ear.microphones.map(({ id, name }) => ({ value: id, text: `“${name}”` })),
      ]}
      onChoose={roomBars.listenThrough}
    />
  );
};

/** What to know of the listening just now, in a sentence; what is remembered in any case. */
export const RememberedWords = (): ComponentChildren => {
  const { desk } = useApp();
  const ear = desk.roomEar.value;
  const trouble = ear?.sound?.trouble;
  const text =
    ear === undefined
      ? 'The last five minutes are remembered.'
      : ear.name === undefined
        ? 'The browser asks whether Malletloom may use the microphone.'
        : ear.through === 'loudspeaker' && desk.hearing.value !== undefined
          ? 'Not listening while the loudspeakers play; with headphones it goes on.'
          : trouble !== undefined
            ? TROUBLES[trouble]
            : 'Listening: five minutes are remembered; sound is thrown away unless you keep it.';
  return (
    <span class={trouble === undefined ? undefined : 'room-trouble'} role="status">
      {trouble === undefined ? null : <span aria-hidden="true">△ </span>}
      {text}
    </span>
  );
};
