/** What a page handed to an output: the bytes, and when they are to leave, in ms (0: at once). */
export interface SentMessage {
  readonly data: readonly number[];
  readonly timestamp: number;
  /** When it was handed over. */
  readonly handed: number;
}

/**
 * A browser's Web MIDI without a device, shaped by the W3C Web MIDI API (working draft): maps of
 * inputs and outputs, ports that open, `statechange` on port and access, `midimessage` events with data and
 * timeStamp, and send(data, timestamp), which refuses what is no whole message and what goes to a port that is gone.
 * As in Chromium, an unplugged port leaves the map, and an open one becomes "pending"; there is no clear().
 */
export interface FakeMidi {
  /** Plugs a device in; the same name again is the same port come back. Returns its id. */
  plug(name: string): string;
  /** Plugs in something that can be sent to; a device with two ways is plugged in twice, under one name. */
  plugOut(name: string): string;
  /** What was sent to an output, in the order it was handed over. */
  sent(id: string): readonly SentMessage[];
  /** What a port is: open, closed or pending. */
  connection(id: string): string;
  unplug(id: string): void;
  /** Sends one message; true when an open port delivered it. timeStamp in ms, now unless said. */
  send(id: string, bytes: readonly number[], timeStamp?: number): boolean;
  /** From now on the person says no: NotAllowedError. */
  deny(): void;
  /** From now on MIDI itself does not start: NotSupportedError. */
  refuse(): void;
  /** From now on this device cannot be opened, as when another program holds it. */
  hold(name: string): void;
  release(name: string): void;
  /** How many times the page asked for MIDI. */
  readonly requests: number;
  /** What the page asked for last. */
  readonly asked: { readonly sysex?: boolean | undefined } | undefined;
}

export type WindowWithFakeMidi = Window & { fakeMidi: FakeMidi };

/**
 * Puts the fake in place of navigator.requestMIDIAccess and itself at window.fakeMidi. Holds no
 * reference to anything outside itself, so Playwright can send it into a page:
 * `page.addInitScript(installFakeWebMidi)` (without an argument it takes the page's own window).
 */
export const installFakeWebMidi = (given?: Window): FakeMidi => {
  const target = given ?? window;
  type Handler = ((event: Event) => void) | null;

  /** An EventTarget with on... properties; such a handler takes its turn from when it was first set (HTML). */
  class Emitter extends EventTarget {
    private readonly handlers = new Map<string, Handler>();
    get onstatechange(): Handler {
      return this.handler('statechange');
    }
    set onstatechange(handler: Handler) {
      this.setHandler('statechange', handler);
    }
    fire(type: string, extra: Record<string, unknown>): void {
      const event = new Event(type);
      for (const [key, value] of Object.entries(extra)) Object.defineProperty(event, key, { value });
      this.dispatchEvent(event);
    }
    protected handler(type: string): Handler {
      return this.handlers.get(type) ?? null;
    }
    protected setHandler(type: string, handler: Handler): void {
      if (!this.handlers.has(type)) {
        this.addEventListener(type, event => this.handlers.get(type)?.call(this, event));
      }
      this.handlers.set(type, handler ?? null);
    }
  }

  class Port extends Emitter {
    readonly type: 'input' | 'output' = 'input';
    readonly manufacturer = 'Fake';
    readonly version = '1';
    state: 'connected' | 'disconnected' = 'connected';
    connection: 'open' | 'closed' | 'pending' = 'closed';
    readonly id: string;
    readonly name: string;
    constructor(id: string, name: string) {
      super();
      this.id = id;
      this.name = name;
    }
    get onmidimessage(): Handler {
      return this.handler('midimessage');
    }
    /** Setting a handler opens the port, says the standard; a failure then goes unreported. */
    set onmidimessage(handler: Handler) {
      this.setHandler('midimessage', handler);
      if (handler !== null) this.open().catch(() => undefined);
    }
    async open(): Promise<this> {
      await Promise.resolve();
      if (this.connection === 'open') return this;
      if (heldNames.has(this.name)) throw new DOMException(`${this.name} is in use`, 'InvalidAccessError');
      this.connection = this.state === 'connected' ? 'open' : 'pending';
      changed(this);
      return this;
    }
    async close(): Promise<this> {
      await Promise.resolve();
      if (this.connection === 'closed') return this;
      this.connection = 'closed';
      changed(this);
      return this;
    }
  }

  /** How many bytes a message has by its first one (MIDI 1.0, table of status bytes); system exclusive is not allowed. */
  const lengthOf = (first: number): number =>
    first >= 0xf8 || first === 0xf6
      ? 1
      : first === 0xf2
        ? 3
        : first === 0xf1 || first === 0xf3
          ? 2
          : first >= 0xf0 || first < 0x80
            ? 0
            : first >= 0xc0 && first < 0xe0
              ? 2
              : 3;

  class OutPort extends Port {
    override readonly type = 'output';
    readonly messages: SentMessage[] = [];
    send(given: Iterable<number>, timestamp = 0): void {
      const data = [...given];
      for (let at = 0; at < data.length;) {
        const length = lengthOf(data[at] ?? 0);
        const rest = data.slice(at + 1, at + length);
        const isWhole =
          length > 0 && rest.length === length - 1 && rest.every(byte => byte >= 0 && byte < 128);
        if (!isWhole) throw new TypeError(`no MIDI message: ${data.join(' ')}`);
        at += length;
      }
      if (data.length === 0 || !Number.isFinite(timestamp)) throw new TypeError('nothing to send');
      if (this.state !== 'connected') throw new DOMException(`${this.name} is gone`, 'InvalidStateError');
      if (this.connection === 'closed') void this.open();
      this.messages.push({ data, timestamp, handed: performance.now() });
    }
  }

  class Access extends Emitter {
    readonly sysexEnabled = false;
    get inputs(): Map<string, Port> {
      return connected('input');
    }
    get outputs(): Map<string, Port> {
      return connected('output');
    }
  }
  const connected = (type: Port['type']): Map<string, Port> =>
    new Map([...ports].filter(([, port]) => port.state === 'connected' && port.type === type));

  const heldNames = new Set<string>();
  const ports = new Map<string, Port>();
  const accesses: Access[] = [];
  let answer: 'yes' | 'deny' | 'refuse' = 'yes';
  let requests = 0;
  let asked: FakeMidi['asked'];
  const changed = (port: Port): void => {
    port.fire('statechange', { port });
    for (const access of accesses) access.fire('statechange', { port });
  };

  const plugIn = (type: Port['type'], name: string): string => {
    const known = [...ports.values()].find(
      port => port.name === name && port.type === type && port.state === 'disconnected',
    );
    const id = `fake-${String(ports.size + 1)}`;
    const port = known ?? (type === 'input' ? new Port(id, name) : new OutPort(id, name));
    ports.set(port.id, port);
    port.state = 'connected';
    // A port that was open when it went comes back open.
    if (port.connection === 'pending') port.connection = 'open';
    changed(port);
    return port.id;
  };
  const fake: FakeMidi = {
    plug: name => plugIn('input', name),
    plugOut: name => plugIn('output', name),
    sent: id => {
      const port = ports.get(id);
      return port instanceof OutPort ? [...port.messages] : [];
    },
    connection: id => ports.get(id)?.connection ?? 'gone',
    unplug: id => {
      const port = ports.get(id);
      if (port?.state !== 'connected') return;
      port.state = 'disconnected';
      if (port.connection === 'open') port.connection = 'pending';
      changed(port);
    },
    send: (id, bytes, timeStamp = performance.now()) => {
      const port = ports.get(id);
      if (port?.state !== 'connected' || port.connection !== 'open') return false;
      port.fire('midimessage', { data: Uint8Array.from(bytes), timeStamp });
      return true;
    },
    deny: () => {
      answer = 'deny';
    },
    refuse: () => {
      answer = 'refuse';
    },
    hold: name => {
      heldNames.add(name);
    },
    release: name => {
      heldNames.delete(name);
    },
    get requests() {
      return requests;
    },
    get asked() {
      return asked;
    },
  };

  const requestMIDIAccess = async (options?: FakeMidi['asked']): Promise<Access> => {
    requests += 1;
    asked = options;
    await Promise.resolve();
    if (answer === 'deny') throw new DOMException('the person said no', 'NotAllowedError');
    if (answer === 'refuse') throw new DOMException('no MIDI on this system', 'NotSupportedError');
    const access = new Access();
    accesses.push(access);
    return access;
  };
  Object.defineProperty(target.navigator, 'requestMIDIAccess', {
    value: requestMIDIAccess,
    configurable: true,
  });
  Object.defineProperty(target, 'fakeMidi', { value: fake, configurable: true });
  return fake;
};
