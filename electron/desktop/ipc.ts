import { z } from '../../core/foundation/schema.ts';
import { CHANNELS, type GivenFile } from '../../core/bridge/host.ts';
import { type MenuState, MOST_RECENT } from '../../core/bridge/menu.ts';
import { MOST_BYTES } from '../../core/library/limits.ts';
import { isDropped, isListed, isRead, isWritten } from '../../core/library/paths.ts';
import { detailOf, failed, ok, type Result } from '../../core/foundation/result.ts';
import type { Folder } from '../../core/library/folder.ts';
import { isOurs } from './appAddress.ts';
import { isPlainPath } from './nodeFolder.ts';

/** Who sent a message, as Electron tells it. */
export interface Sender {
  readonly senderFrame: { readonly url: string; readonly parent: unknown } | null;
  readonly sender: { readonly id: number };
}

/** What is used of ipcMain. */
export interface Channels {
  handle(channel: string, answer: (event: Sender, ...args: unknown[]) => Promise<unknown>): void;
}

/** What the channels lead to. */
export interface Desktop {
  readonly folder: () => Folder;
  /** Asks the teacher for a folder and takes it into use. */
  readonly chooseFolder: () => Promise<Result<string | undefined>>;
  /** Number of our window's contents; undefined before it is open. */
  readonly windowId: () => number | undefined;
  /** The next file that was given. */
  readonly takeGiven: () => Promise<Result<GivenFile | undefined>>;
  readonly showMenu: (state: MenuState) => void;
  /** Puts the kind of a problem into the log. */
  readonly noteProblem: (kind: string) => void;
}

/** Whether a message comes from the main frame of our own window, showing our own page. */
export const isOurWindow = (event: Sender, windowId: number | undefined): boolean =>
  windowId !== undefined &&
  event.sender.id === windowId &&
  event.senderFrame !== null &&
  event.senderFrame.parent === null &&
  isOurs(event.senderFrame.url);

const pathOf = (allowed: (path: string) => boolean) =>
  z
    .string()
    .max(400)
    .refine(path => isPlainPath(path) && allowed(path), 'no path of a class library');
const bytes = z.instanceof(Uint8Array).refine(all => all.byteLength <= MOST_BYTES);
const nothing = z.tuple([]);
const listed = z.tuple([pathOf(isListed)]);
const read = z.tuple([pathOf(isRead)]);
const dropped = z.tuple([pathOf(isDropped)]);
const written = z.tuple([pathOf(isWritten), bytes]);

/** Names of steps and pieces, as long as a menu could ever show them. */
const named = z.string().max(1_000);
const menu = z.tuple([
  z.strictObject({
    undo: named.optional(),
    redo: named.optional(),
    hasPiece: z.boolean(),
    isPupilView: z.boolean(),
    recent: z.array(z.strictObject({ id: z.string().max(80), name: named })).max(MOST_RECENT),
  } satisfies Record<keyof MenuState, z.ZodType>),
]);
/** Kinds of problems are words of the program. */
const noted = z.tuple([z.string().regex(/^[a-z][a-z-]{0,39}$/)]);

const refused = (detail: string): Result<never> =>
  failed({
    kind: 'bad-request',
    what: 'The class library was asked for something it does not do.',
    kept: 'Nothing was read or changed.',
    next: 'Start Malletloom again; if it happens again, tell whoever looks after it.',
    detail,
  });

/** Opens the channels of the bridge. Every message is checked for its sender, then decoded. */
export const openChannels = (channels: Channels, desktop: Desktop): void => {
  const on = <Args extends readonly unknown[]>(
    channel: string,
    shape: z.ZodType<Args>,
    job: (...args: Args) => Promise<unknown>,
  ): void => {
    channels.handle(channel, async (event, ...args) => {
      if (!isOurWindow(event, desktop.windowId())) return refused('the sender is not our window');
      const decoded = shape.safeParse(args);
      if (!decoded.success) return refused(decoded.error.issues[0]?.message ?? 'undecodable');
      try {
        return await job(...decoded.data);
      } catch (thrown) {
        return refused(detailOf(thrown));
      }
    });
  };
  on(CHANNELS.where, nothing, () => Promise.resolve(ok(desktop.folder().where)));
  on(CHANNELS.list, listed, at => desktop.folder().list(at));
  on(CHANNELS.read, read, at => desktop.folder().read(at));
  on(CHANNELS.writeNew, written, (at, all) => desktop.folder().writeNew(at, all));
  on(CHANNELS.tidy, nothing, () => desktop.folder().tidy());
  on(CHANNELS.dropDraft, dropped, at => desktop.folder().dropDraft(at));
  on(CHANNELS.chooseFolder, nothing, () => desktop.chooseFolder());
  on(CHANNELS.takeGiven, nothing, () => desktop.takeGiven());
  on(CHANNELS.showMenu, menu, state => {
    desktop.showMenu(state);
    return Promise.resolve(ok(undefined));
  });
  on(CHANNELS.noteProblem, noted, kind => {
    desktop.noteProblem(kind);
    return Promise.resolve(ok(undefined));
  });
};
