/**
 * A browser's Web MIDI without a device, shaped by the W3C Web MIDI API (working draft): a map of
 * inputs, ports that open, `statechange` on port and access, and `midimessage` events with data and
 * timeStamp. As in Chromium, an unplugged port leaves the map, and an open one becomes "pending".
 */
export interface FakeMidi {
  /** Plugs a device in; the same name again is the same port come back. Returns its id. */
  plug(name: string): string;
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
    readonly type = 'input';
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

  class Access extends Emitter {
    readonly sysexEnabled = false;
    readonly outputs = new Map<string, never>();
    get inputs(): Map<string, Port> {
      return new Map([...ports].filter(([, port]) => port.state === 'connected'));
    }
  }

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

  const fake: FakeMidi = {
    plug: name => {
      const known = [...ports.values()].find(port => port.name === name && port.state === 'disconnected');
      const port = known ?? new Port(`fake-${String(ports.size + 1)}`, name);
      ports.set(port.id, port);
      port.state = 'connected';
      // A port that was open when it went comes back open.
      if (port.connection === 'pending') port.connection = 'open';
      changed(port);
      return port.id;
    },
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
