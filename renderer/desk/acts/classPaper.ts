import { detailOf } from '../../../core/foundation/result.ts';
import type { RegisterRow } from '../../../core/library/register.ts';
import type { ToPrint } from '../../pdf/pagesOf.ts';
import { complain, tell } from '../commands/messages.ts';
import { setWork } from '../commands/work.ts';
import type { Desk } from '../desk.ts';
import { download, onPaper, scoreToRead } from './handOn.ts';
import type { Keeper } from './keeper.ts';
import { layOutForPrint } from './printing.ts';

/** Many pieces of the register on paper at once. */
export interface ClassPaper {
  /** One PDF with the scores of these lines, in their order. */
  readonly pdf: (rows: readonly RegisterRow[], name: string) => Promise<void>;
  /** The same through the system's own print dialogue. */
  readonly print: (rows: readonly RegisterRow[]) => Promise<void>;
  /** Ends the work under way; nothing is made. */
  readonly stop: () => void;
}

/** Ends the work where it stands. */
class Stopped extends Error {}

const breath = (): Promise<void> =>
  new Promise(done => {
    setTimeout(done);
  });

export const createClassPaper = (desk: Desk, keeper: Pick<Keeper, 'piece'>): ClassPaper => {
  let isStopped = false;
  let isAtWork = false;

  const goOn = async (text: string): Promise<void> => {
    if (isStopped) throw new Stopped();
    desk.run(setWork, { text, isPaper: true });
    // The page is drawn, and Stop can be pressed, between one piece and the next.
    await breath();
  };

  const scoresOf = async (rows: readonly RegisterRow[]): Promise<readonly ToPrint[]> => {
    const all: ToPrint[] = [];
    for (const { piece: here, entry, className } of rows) {
      await goOn(`Reading ${String(all.length + 1)} of ${String(rows.length)}`);
      // One that cannot be read is told, and the others go on paper.
      const piece = here ?? (entry === undefined ? undefined : await keeper.piece(entry));
      if (piece !== undefined) all.push({ score: scoreToRead(desk, piece), className });
    }
    return all;
  };

  const atWork = async (rows: readonly RegisterRow[], job: (all: readonly ToPrint[]) => Promise<void>) => {
    if (isAtWork || rows.length === 0) return;
    isAtWork = true;
    isStopped = false;
    try {
      await job(await scoresOf(rows));
    } catch (thrown) {
      if (thrown instanceof Stopped) desk.run(tell, 'Stopped; nothing was made.');
      else
        desk.run(complain, {
          kind: 'unexpected',
          what: 'The pages could not be made.',
          kept: 'Every piece is as it was.',
          next: 'Try again with fewer of them.',
          detail: detailOf(thrown),
        });
    } finally {
      isAtWork = false;
      desk.run(setWork, undefined);
    }
  };

  const options = (count: number) => ({
    ...onPaper(desk),
    before: (index: number) => goOn(`Laying out ${String(index + 1)} of ${String(count)}`),
  });

  return {
    pdf: (rows, name) =>
      atWork(rows, async all => {
        // Fetched when it is first wanted: the app starts without it.
        const { makePdf } = await import('../../pdf/makePdf.ts');
        const { bytes, missing } = await makePdf(all, 'score', options(all.length), name);
        download(desk, `${name}.pdf`, bytes.slice().buffer, 'application/pdf');
        if (missing.length > 0)
          desk.run(tell, `${name}.pdf was made. Its letters lack ${missing.join(' ')}, which stand as “?”.`);
      }),
    print: rows =>
      atWork(rows, async all => {
        if (!(await layOutForPrint(all, options(all.length)))) return;
        desk.run(setWork, undefined);
        window.print();
      }),
    stop: () => {
      isStopped = true;
    },
  };
};
