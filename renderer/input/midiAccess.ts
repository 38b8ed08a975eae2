/**
 * navigator.requestMIDIAccess, with ports whose open() never rejects.
 *
 * webmidi opens every port by itself and leaves one rejection unanswered when a held device is plugged
 * in, and gives up altogether when one is held at the start. A port that stays closed says so in
 * `connection`; that is enough.
 */
export const requestAccess = async (options?: MIDIOptions): Promise<MIDIAccess> => {
  const access = await navigator.requestMIDIAccess(options);
  const softened = new WeakSet<MIDIPort>();
  const soften = (): void => {
    for (const port of [...access.inputs.values(), ...access.outputs.values()] as MIDIPort[]) {
      if (softened.has(port)) continue;
      softened.add(port);
      const open = port.open.bind(port);
      port.open = () => open().catch(() => port);
    }
  };
  soften();
  // Before webmidi adds its own, so that a new port is ready when webmidi sees it.
  access.addEventListener('statechange', soften);
  return access;
};
