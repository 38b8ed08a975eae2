import { detailOf, type Problem } from '../../core/foundation/result.ts';

const STILL = 'What was heard before stays remembered, and every other way to play still works.';

const refused = (detail: string): Problem => ({
  kind: 'microphone-refused',
  what: 'This page may not use the microphone.',
  kept: STILL,
  next: 'Allow the microphone in the browser, beside the address, then choose the bars in the room again.',
  detail,
});

/** There is no microphone, or none can be reached from here. */
export const microphoneMissing = (detail: string): Problem => ({
  kind: 'microphone-missing',
  what: 'No microphone is found.',
  kept: STILL,
  next: 'Plug one in, then choose the bars in the room again; or open a recording.',
  detail,
});

const held = (detail: string): Problem => ({
  kind: 'microphone-held',
  what: 'The microphone cannot be used just now.',
  kept: STILL,
  next: 'Another program may hold it: close that program, then choose the bars in the room again.',
  detail,
});

/** It was unplugged, or stopped giving sound, in the middle of listening. */
export const microphoneGone = (detail: string): Problem => ({
  kind: 'microphone-gone',
  what: 'The microphone was unplugged or switched off; listening has stopped.',
  kept: 'All that was heard up to then is kept and can be caught.',
  next: 'Plug it in again, then choose the bars in the room again.',
  detail,
});

/** Another window of the app began to listen. */
export const heardElsewhere = (): Problem => ({
  kind: 'microphone-held',
  what: 'Another window of Malletloom listens to the room now; this one has stopped.',
  kept: 'All that was heard here up to then is kept and can be caught.',
  next: 'Choose the bars in the room here to listen here again.',
});

/** What a rejected request means (Media Capture and Streams, W3C: the errors of getUserMedia). */
export const microphoneProblemOf = (error: unknown): Problem => {
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  switch (name) {
    case 'NotAllowedError':
    case 'SecurityError':
      return refused(detailOf(error));
    case 'NotReadableError':
    case 'AbortError':
      return held(detailOf(error));
    default:
      return microphoneMissing(detailOf(error));
  }
};
