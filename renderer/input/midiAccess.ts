/** How a port is really opened, where it was made to wait or to answer softly. */
const opens = new WeakMap<MIDIPort, () => Promise<MIDIPort>>();

/** Opens what may be sent to, now that it was chosen; it stays closed where it cannot be had. */
export const openOutput = async (port: MIDIPort): Promise<void> => {
  await (opens.get(port) ?? (() => port.open()))().catch(() => undefined);
};

/**
 * navigator.requestMIDIAccess, with ports whose open() never rejects, and outputs that are not opened by it at all.
 *
 * webmidi opens every port by itself and leaves one rejection unanswered when a held device is plugged
 * in, and gives up altogether when one is held at the start. A port that stays closed says so in
 * `connection`; that is enough. What may be sent to is nobody's before it was chosen: `openOutput`.
 */
export const requestAccess = async (options?: MIDIOptions): Promise<MIDIAccess> => {
  const access = await navigator.requestMIDIAccess(options);
  const soften = (): void => {
    for (const port of [...access.inputs.values(), ...access.outputs.values()] as MIDIPort[]) {
      if (opens.has(port)) continue;
      const open = port.open.bind(port);
      opens.set(port, open);
      port.open = port.type === 'output' ? () => Promise.resolve(port) : () => open().catch(() => port);
    }
  };
  soften();
  // Before webmidi adds its own, so that a new port is ready when webmidi sees it.
  access.addEventListener('statechange', soften);
  return access;
};
