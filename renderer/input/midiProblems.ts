import { detailOf, type Problem } from '../../core/foundation/result.ts';

const STILL = 'The bars on the screen and the computer keyboard still work.';

/** The person or the school's settings said no. */
const refused = (detail: string): Problem => ({
  kind: 'midi-refused',
  what: 'This page may not use music keyboards and pads.',
  kept: STILL,
  next: 'Allow MIDI devices in the browser, beside the address, then try again.',
  detail,
});

/** The browser has no Web MIDI, or its MIDI does not start. */
export const midiMissing = (detail: string): Problem => ({
  kind: 'midi-missing',
  what: 'Music keyboards and pads cannot be reached from here.',
  kept: STILL,
  next: 'Use the Malletloom program, or a browser with Web MIDI.',
  detail,
});

/** Nothing is plugged in; or, on some systems, what another program holds is simply not listed. */
export const midiSilent = (): Problem => ({
  kind: 'midi-silent',
  what: 'No music keyboard or pad is heard.',
  kept: STILL,
  next: 'Plug one in. If it is plugged in already, another program may hold it: close that program.',
  detail: 'the list of inputs is empty',
});

/** Plugged in, but it would not open. */
export const midiHeld = (names: readonly string[]): Problem => ({
  kind: 'midi-silent',
  what: `${names.join(' and ')} cannot be heard.`,
  kept: STILL,
  next: 'Another program may hold it: close that program, then look again.',
  detail: 'the port did not open',
});

/** Something to send to that would not open. */
export const outputHeld = (name: string): Problem => ({
  kind: 'midi-silent',
  what: `Nothing can be sent to ${name}.`,
  kept: 'The piece sounds here as before.',
  next: 'Another program may hold it: close that program, then choose it again.',
  detail: 'the port did not open',
});

/** What a rejected request for MIDI means (Web MIDI: NotAllowedError or SecurityError is a refusal). */
export const problemOf = (error: unknown): Problem => {
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  const denied = name === 'NotAllowedError' || name === 'SecurityError';
  return (denied ? refused : midiMissing)(detailOf(error));
};
