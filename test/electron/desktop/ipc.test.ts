import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { CHANNELS } from '../../../core/bridge/host.ts';
import type { MenuState } from '../../../core/bridge/menu.ts';
import { MOST_BYTES } from '../../../core/library/limits.ts';
import { memoryFolder } from '../../../core/library/memoryFolder.ts';
import { START } from '../../../electron/desktop/appAddress.ts';
import { answerFromApp } from '../../../electron/desktop/appScheme.ts';
import { isOurWindow, openChannels, type Sender } from '../../../electron/desktop/ipc.ts';
import { nodeFolder } from '../../../electron/desktop/nodeFolder.ts';
import { beTheOnlyOne, type Showable, type SingleApp } from '../../../electron/desktop/oneInstance.ts';
import { readLocation, writeLocation } from '../../../electron/desktop/libraryLocation.ts';
import { guardContents, guardPermissions, mayUse } from '../../../electron/desktop/security.ts';

const ours: Sender = { senderFrame: { url: START, parent: null }, sender: { id: 7 } };
const channels = () => {
  const files = new Map<string, Uint8Array>();
  const shown: MenuState[] = [];
  const noted: string[] = [];
  const answers = new Map<string, (event: Sender, ...args: unknown[]) => Promise<unknown>>();
  openChannels(
    { handle: (channel, answer) => answers.set(channel, answer) },
    {
      folder: () => memoryFolder(files, 'a folder'),
      windowId: () => 7,
      chooseFolder: () => Promise.resolve({ ok: true, value: undefined }),
      takeGiven: () => Promise.resolve({ ok: true, value: { name: 'a.mid', bytes: new Uint8Array([7]) } }),
      showMenu: state => shown.push(state),
      noteProblem: kind => noted.push(kind),
    },
  );
  const ask = (channel: string, event: Sender, ...args: unknown[]): unknown =>
    answers.get(channel)?.(event, ...args);
  return { files, answers, ask, shown, noted };
};

it('answers every verb of the bridge to our own page', async () => {
  const { answers, ask } = channels();
  expect([...answers.keys()].sort()).toEqual(Object.values(CHANNELS).sort());
  const bytes = new Uint8Array([1, 2]);
  expect(await ask(CHANNELS.where, ours)).toEqual({ ok: true, value: 'a folder' });
  expect(await ask(CHANNELS.writeNew, ours, 'items/a/r.json', bytes)).toMatchObject({ ok: true });
  expect(await ask(CHANNELS.read, ours, 'items/a/r.json')).toEqual({ ok: true, value: bytes });
  expect(await ask(CHANNELS.list, ours, 'items')).toEqual({ ok: true, value: ['a'] });
});

it.each<[string, Sender]>([
  ['another site', { ...ours, senderFrame: { url: 'https://a.example/', parent: null } }],
  ['a look-alike host', { ...ours, senderFrame: { url: 'app://malletloom.a.example/', parent: null } }],
  ['a frame inside the page', { ...ours, senderFrame: { url: START, parent: {} } }],
  ['another window', { ...ours, sender: { id: 8 } }],
  ['a frame that is gone', { ...ours, senderFrame: null }],
])('refuses %s on every channel', async (_, sender) => {
  const { files, ask } = channels();
  for (const channel of Object.values(CHANNELS)) {
    const answer = await ask(channel, sender, 'items/a.json', new Uint8Array());
    expect(answer).toMatchObject({ ok: false, problem: { detail: 'the sender is not our window' } });
  }
  expect(files.size).toBe(0);
});

it('hands over what was given, shows the menu, and notes kinds of problems', async () => {
  const { ask, shown, noted } = channels();
  expect(await ask(CHANNELS.takeGiven, ours)).toMatchObject({ ok: true, value: { name: 'a.mid' } });
  const state = {
    undo: 'Canon',
    hasPiece: true,
    isPupilView: false,
    recent: [{ id: 'a', name: 'Tin roof' }],
  };
  expect(await ask(CHANNELS.showMenu, ours, state)).toMatchObject({ ok: true });
  expect(shown).toEqual([state]);
  expect(await ask(CHANNELS.noteProblem, ours, 'too-large')).toMatchObject({ ok: true });
  expect(noted).toEqual(['too-large']);
});

const plainMenu = { hasPiece: true, isPupilView: false, recent: [] };
it.each<[string, ...(readonly unknown[])]>([
  [CHANNELS.takeGiven, 'a path'],
  [CHANNELS.showMenu],
  [CHANNELS.showMenu, { ...plainMenu, click: 'more' }],
  [CHANNELS.showMenu, { ...plainMenu, hasPiece: 'yes' }],
  [CHANNELS.showMenu, { ...plainMenu, undo: 'u'.repeat(1_001) }],
  [CHANNELS.showMenu, { ...plainMenu, recent: Array.from({ length: 9 }, () => ({ id: 'a', name: 'b' })) }],
  [CHANNELS.showMenu, { ...plainMenu, recent: [{ id: 'a'.repeat(81), name: 'b' }] }],
  // A log may be sent to somebody: no sentence, name or line break gets into it.
  [CHANNELS.noteProblem, 'Heron'],
  [CHANNELS.noteProblem, 'too large'],
  [CHANNELS.noteProblem, 'too-large\nforged line'],
  [CHANNELS.noteProblem, 'a'.repeat(41)],
])('refuses what the menu and the log cannot take (%s, %#)', async (channel, ...args) => {
  const { ask, shown, noted } = channels();
  expect(await ask(channel, ours, ...args)).toMatchObject({ ok: false, problem: { kind: 'bad-request' } });
  expect([shown, noted]).toEqual([[], []]);
});

it('refuses everyone before the window is open', () => {
  expect(isOurWindow(ours, undefined)).toBe(false);
  expect(isOurWindow(ours, 7)).toBe(true);
});

it.each<readonly unknown[]>([
  [],
  ['items/a/r1.json'],
  ['items/a/r1.json', 'text'],
  ['items/a/r1.json', new Uint8Array(), 'more'],
  ['../a.json', new Uint8Array()],
  ['items/../r1.json', new Uint8Array()],
  ['/items/a/r1.json', new Uint8Array()],
  ['a.json', new Uint8Array()],
  ['items/r1.json', new Uint8Array()],
  ['items/a/b/r1.json', new Uint8Array()],
  ['items/a/r1.exe', new Uint8Array()],
  ['items/a/r1 (1).json', new Uint8Array()],
  ['items/A/r1.json', new Uint8Array()],
  ['items/a/.r1.json', new Uint8Array()],
  [{ path: 'items/a/r1.json' }, new Uint8Array()],
  [`items/a/${'r'.repeat(81)}.json`, new Uint8Array()],
  ['items/a/r1.json', new Uint8Array(MOST_BYTES + 1)],
])('refuses arguments it cannot decode (%#)', async (...args) => {
  const { files, ask } = channels();
  expect(await ask(CHANNELS.writeNew, ours, ...args)).toMatchObject({
    ok: false,
    problem: { kind: 'bad-request' },
  });
  expect(files.size).toBe(0);
});

it.each([
  [CHANNELS.list, ''],
  [CHANNELS.list, 'items/a/b'],
  [CHANNELS.list, 'items/..'],
  [CHANNELS.list, '.ssh'],
  [CHANNELS.read, 'items/a/key.pem'],
  [CHANNELS.read, 'items/r1.json'],
  [CHANNELS.read, 'place.json'],
  [CHANNELS.read, 'items/.a/r1.json'],
])('on %s leads nowhere but to the class library: "%s"', async (channel, path) => {
  const { files, ask } = channels();
  files.set(path, new Uint8Array([1]));
  expect(await ask(channel, ours, path)).toMatchObject({ ok: false, problem: { kind: 'bad-request' } });
});

it('grants MIDI without system exclusive and sound without a picture to our own page, and nothing else', () => {
  expect(mayUse('midi', START)).toBe(true);
  expect(mayUse('media', START, ['audio'])).toBe(true);
  for (const media of [[], ['video'], ['audio', 'video'], ['unknown']])
    expect(mayUse('media', START, media)).toBe(false);
  for (const permission of ['midiSysex', 'display-capture', 'geolocation', 'notifications', 'fileSystem'])
    expect(mayUse(permission, START, ['audio'])).toBe(false);
  for (const address of ['https://a.example/', '', 'app://malletloom.example/', 'file:///index.html']) {
    expect(mayUse('midi', address)).toBe(false);
    expect(mayUse('media', address, ['audio'])).toBe(false);
  }
});

it('sets both permission handlers', () => {
  const asked: boolean[] = [];
  const checked: boolean[] = [];
  guardPermissions({
    setPermissionRequestHandler: handler => {
      const ask = (permission: string, given: { requestingUrl?: string; mediaTypes?: string[] }): void => {
        handler(undefined, permission, granted => asked.push(granted), given);
      };
      ask('midi', { requestingUrl: START });
      ask('midiSysex', { requestingUrl: START });
      ask('media', { requestingUrl: START, mediaTypes: ['audio'] });
      ask('media', { requestingUrl: START, mediaTypes: ['audio', 'video'] });
      ask('media', { requestingUrl: START });
      ask('media', { mediaTypes: ['audio'] });
    },
    setPermissionCheckHandler: handler => {
      const ours = 'app://malletloom';
      checked.push(
        handler(undefined, 'midi', ours),
        handler(undefined, 'media', ours),
        handler(undefined, 'media', ours, { mediaType: 'audio' }),
        handler(undefined, 'media', ours, { mediaType: 'video' }),
        handler(undefined, 'media', 'https://a.example', { mediaType: 'audio' }),
      );
    },
  });
  expect(asked).toEqual([true, false, true, false, false, false]);
  expect(checked).toEqual([true, false, true, false, false]);
});

it('refuses navigation, views and new windows', () => {
  const prevented: string[] = [];
  let opened = '';
  guardContents({
    on: (event, handler) => {
      handler({ preventDefault: () => prevented.push(event) });
    },
    setWindowOpenHandler: handler => {
      opened = handler().action;
    },
  });
  expect([prevented, opened]).toEqual([
    ['will-navigate', 'will-redirect', 'will-frame-navigate', 'will-attach-webview'],
    'deny',
  ]);
});

it('is the only one: a second start ends, and the first comes to the front with what it was given', () => {
  const said: string[] = [];
  const given = (args: readonly string[], from: string): void => {
    said.push(`${args.join(' ')} in ${from}`);
  };
  const window: Showable = {
    isMinimized: () => true,
    restore: () => said.push('restored'),
    focus: () => said.push('focused'),
  };
  const app = (first: boolean): SingleApp => ({
    requestSingleInstanceLock: () => first,
    quit: () => said.push('quit'),
    on: (_, handler) => {
      handler({}, ['malletloom', 'idea.mid'], '/home/class');
    },
  });
  expect(beTheOnlyOne(app(false), () => window, given)).toBe(false);
  expect(said).toEqual(['quit']);
  expect(beTheOnlyOne(app(true), () => window, given)).toBe(true);
  expect(said).toEqual(['quit', 'restored', 'focused', 'idea.mid in /home/class']);
  // Asked before the window is there, it has nothing to bring forward.
  expect(beTheOnlyOne(app(true), () => undefined, given)).toBe(true);
  expect(said.slice(4)).toEqual(['idea.mid in /home/class']);
});

it('opens its window though Documents cannot be used, and says in it what is the matter', async () => {
  const home = mkdtempSync(join(tmpdir(), 'malletloom-place-'));
  try {
    writeFileSync(join(home, 'Documents'), 'a file where the folder should be');
    const place = readLocation(join(home, 'place.json'), join(home, 'Documents'));
    const listed = await nodeFolder(place).list('items');
    expect(listed).toMatchObject({ ok: false });
    expect(listed.ok ? '' : listed.problem.next).not.toBe('');
    expect(await nodeFolder(place).writeNew('items/a/r1.json', new Uint8Array())).toMatchObject({
      ok: false,
    });
  } finally {
    rmSync(home, { recursive: true, force: true });
  }
});

it('serves the built app on its own scheme, and only that', async () => {
  const home = mkdtempSync(join(tmpdir(), 'malletloom-scheme-'));
  try {
    mkdirSync(join(home, 'app'));
    writeFileSync(join(home, 'secret.txt'), 'secret');
    writeFileSync(join(home, 'app', 'index.html'), 'page');
    const ask = (url: string, method = 'GET') => answerFromApp(join(home, 'app'), { url, method });
    const page = await ask('app://malletloom/');
    expect([page.status, await page.text()]).toEqual([200, 'page']);
    expect(page.headers.get('Content-Security-Policy')).toContain("default-src 'self'");
    expect((await ask('app://malletloom/..%2fsecret.txt')).status).toBe(404);
    expect((await ask('app://other/index.html')).status).toBe(403);
    expect((await ask(START, 'POST')).status).toBe(403);
  } finally {
    rmSync(home, { recursive: true, force: true });
  }
});

it('remembers where the class library is, through a damaged note of it too', () => {
  const home = mkdtempSync(join(tmpdir(), 'malletloom-place-'));
  try {
    const note = join(home, 'place.json');
    expect(readLocation(note, home)).toBe(join(home, 'Malletloom'));
    expect(writeLocation(note, join(home, 'Malletloom'))).toBe(true);
    expect(writeLocation(note, join(home, 'nowhere'))).toBe(false);
    mkdirSync(join(home, 'other'));
    expect(writeLocation(note, join(home, 'other'))).toBe(true);
    expect(readLocation(note, home)).toBe(join(home, 'other'));
    writeFileSync(note, '{"libraryFolder":');
    expect(readLocation(note, home)).toBe(join(home, 'Malletloom'));
  } finally {
    rmSync(home, { recursive: true, force: true });
  }
});
