/** Only one window of the app listens to the room: two would ask the same microphone, and remember everything twice. */
export interface OtherWindows {
  readonly announce: () => void;
  readonly onElsewhere: (stop: () => void) => () => void;
}

/** By a channel of the browser between windows of one address. */
export const otherWindows = (): OtherWindows => {
  const channel = new BroadcastChannel('malletloom.microphone');
  return {
    announce: () => {
      channel.postMessage('listening');
    },
    onElsewhere: stop => {
      channel.addEventListener('message', stop);
      return () => {
        channel.removeEventListener('message', stop);
      };
    },
  };
};
