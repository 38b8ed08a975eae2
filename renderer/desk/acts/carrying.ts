import { detailOf, ok, type Problem } from '../../../core/foundation/result.ts';
import { type GoOn, packItems } from '../../../core/library/portable/pack.ts';
import { MOST_PORTABLE_BYTES } from '../../../core/library/portable/limits.ts';
import { takeIn } from '../../../core/library/portable/takeIn.ts';
import type { Folder } from '../../../core/library/folder.ts';
import type { RegisterRow } from '../../../core/library/register.ts';
import type { PortableFiles } from '../../storage/portableFiles.ts';
import { sha256 } from '../../storage/libraryTools.ts';
import { setAside } from '../commands/aside.ts';
import { setLibrary } from '../commands/keeping.ts';
import { complain, tell } from '../commands/messages.ts';
import { setWork } from '../commands/work.ts';
import type { Desk } from '../desk.ts';
import {
  cameIn,
  contentOf,
  count,
  NOT_CHECKED,
  NOT_MADE,
  notPacked,
  notRead,
  notTakenIn,
  tooLarge,
} from './carryingWords.ts';
import { download, plainName } from './handOn.ts';
import type { Keeper } from './keeper.ts';

/** Carries work between machines, in one file. */
export interface Carrying {
  /**
   * Makes a portable file of these lines, with the lists of their classes where they are of several pupils; or of
   * everything there is.
   * @param of whose work it is, in words: the file is called by them
   */
  readonly make: (rows: readonly RegisterRow[] | 'everything', of: string) => Promise<void>;
  /** Brings a portable file into the class library; nothing that is there is changed. */
  readonly bringIn: (file: File) => Promise<void>;
  /** Reads everything there is from the first byte to the last, and says what cannot be read. */
  readonly check: () => Promise<void>;
  /** Ends what is under way. */
  readonly stop: () => void;
}

/** What the names of portable files end with. */
export const PORTABLE_ENDING = '.malletloom';

/** Whether a file says that it is a portable one. */
export const isPortable = (file: Pick<File, 'name'>): boolean =>
  file.name.toLowerCase().endsWith(PORTABLE_ENDING);

/** Work shorter than this is not shown, in ms. */
const SHOWN_AFTER = 300;
/** The page is drawn at least this often while work goes on, in ms: less than a frame. */
const A_BREATH = 12;

export const createCarrying = (
  desk: Desk,
  keeper: Pick<Keeper, 'folder' | 'shelve' | 'refresh'>,
  files: PortableFiles,
): Carrying => {
  let atWork: AbortController | undefined;

  /** One work at a time; how far it is is shown, and what it throws is told. */
  const inTime = async (
    text: string,
    broken: Problem,
    job: (folder: Folder, goOn: GoOn, signal: AbortSignal) => Promise<void>,
  ): Promise<void> => {
    const folder = keeper.folder();
    if (folder === undefined || atWork !== undefined) return;
    const mine = new AbortController();
    atWork = mine;
    const began = performance.now();
    let breathed = began;
    const show = (words: string): void => {
      desk.run(setWork, { text: words, isFile: true });
    };
    const late = setTimeout(() => {
      show(text);
    }, SHOWN_AFTER);
    const goOn: GoOn = async (done, of) => {
      const now = performance.now();
      if (now - breathed > A_BREATH) {
        if (now - began > SHOWN_AFTER) show(`${text}: ${String(done + 1)} of ${String(of)}`);
        await new Promise(rest => setTimeout(rest));
        breathed = performance.now();
      }
      return !mine.signal.aborted;
    };
    try {
      await job(folder, goOn, mine.signal);
    } catch (thrown) {
      desk.run(complain, { ...broken, detail: detailOf(thrown) });
    } finally {
      clearTimeout(late);
      atWork = undefined;
      desk.run(setWork, undefined);
    }
  };

  /** Everything that waits to be a draft, and what lies on the desk, go into the register first. */
  const shelveAll = async (): Promise<void> => {
    desk.run(now => ok(setAside(now)));
    for (const piece of desk.now().document.outbox) await keeper.shelve(piece);
  };

  const idsOf = (rows: readonly RegisterRow[]): readonly string[] => {
    const names = new Set(rows.map(row => row.className));
    // One pupil's work says nothing of the others in the class.
    const isOnePupils = new Set(rows.map(row => row.codeName)).size === 1;
    const lists = isOnePupils
      ? []
      : desk.now().live.library.classes.filter(entry => names.has(entry.list.name));
    return [
      ...rows.flatMap(row => row.entry?.id ?? row.piece?.id ?? []),
      ...lists.map(entry => entry.list.id),
    ];
  };

  return {
    make: (rows, of) =>
      inTime('Making the portable file', NOT_MADE, async (folder, goOn, signal) => {
        await shelveAll();
        const ids = rows === 'everything' ? undefined : idsOf(rows);
        const packed = await packItems(folder, { sha256 }, ids, goOn);
        if (!packed.ok) {
          desk.run(complain, packed.problem);
          return;
        }
        const { value } = packed;
        if (value?.files.length === 0) {
          desk.run(tell, 'There is nothing to put into a portable file yet.');
          return;
        }
        const about = { of, madeAt: new Date().toISOString() };
        const made = value === undefined ? undefined : await files.make(value.files, about, signal);
        if (value === undefined || made === undefined) desk.run(tell, 'Stopped; nothing was made.');
        else if (!made.ok) desk.run(complain, made.problem);
        else {
          const name = `${plainName(of, 'Class-library')}${PORTABLE_ENDING}`;
          download(desk, name, made.value.slice().buffer, 'application/zip');
          desk.run(tell, `${name} was made, with ${contentOf(value)}.`);
          if (value.damaged.length > 0) desk.run(complain, notPacked(name, value.damaged));
        }
      }),
    bringIn: file =>
      inTime(`Bringing in ${file.name}`, notRead(file.name), async (folder, goOn, signal) => {
        if (file.size > MOST_PORTABLE_BYTES) {
          desk.run(complain, tooLarge(file.name));
          return;
        }
        const read = await files.read(new Uint8Array(await file.arrayBuffer()), file.name, signal);
        if (read === undefined) {
          desk.run(tell, `Stopped; nothing of ${file.name} came in.`);
          return;
        }
        const taken = read.ok ? await takeIn(folder, { sha256 }, read.value.files, goOn) : read;
        await keeper.refresh();
        if (!taken.ok) {
          desk.run(complain, taken.problem);
          return;
        }
        const refused = [...(read.ok ? read.value.refused : []), ...taken.value.refused];
        desk.run(tell, cameIn(file.name, taken.value));
        if (refused.length > 0) desk.run(complain, notTakenIn(file.name, refused, taken.value));
      }),
    check: () =>
      inTime('Reading everything', NOT_CHECKED, async (folder, goOn) => {
        await shelveAll();
        const packed = await packItems(folder, { sha256 }, undefined, goOn);
        if (!packed.ok) desk.run(complain, packed.problem);
        else if (packed.value === undefined) desk.run(tell, 'Stopped; not everything was read.');
        else {
          const { damaged } = packed.value;
          // The register lists each of them; what can be read is named beside.
          desk.run(setLibrary, { damaged });
          if (damaged.length === 0) desk.run(tell, `Everything can be read: ${contentOf(packed.value)}.`);
          else desk.run(tell, `${count(damaged.length, 'file')} cannot be read; the register says which.`);
        }
      }),
    stop: () => {
      atWork?.abort();
    },
  };
};
