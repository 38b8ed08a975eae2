import { pieceScore } from '../../../core/piece/piece.ts';
import type { Desk } from '../desk.ts';
import type { HearOptions } from './heardScore.ts';
import type { Listening } from './listening.ts';

/** Speeds offered, in per cent. */
export const SPEEDS: readonly number[] = [100, 90, 80, 70, 60, 50];

const options = (desk: Desk): HearOptions => {
  const { speed, bar, click } = desk.hearSettings.peek();
  return { rate: speed / 100, click, ...(bar === undefined ? {} : { bar }) };
};

/** The page of Write, as it is chosen to be heard. */
export const hearPage = (desk: Desk, listening: Listening): void => {
  const score = desk.writeScore.peek();
  if (score !== undefined) listening.score('page', score, options(desk));
};

/** The take as it was played. */
export const hearTake = (desk: Desk, listening: Listening): void => {
  const piece = desk.piece.peek();
  const reading = desk.reading.peek();
  if (piece !== undefined && reading !== undefined)
    listening.take(piece.take, reading, piece.instrument, { ...options(desk), mallet: piece.mallet });
};

/** The take with the page in its time: where they part, two strokes are heard. */
export const hearBoth = (desk: Desk, listening: Listening): void => {
  const piece = desk.piece.peek();
  const reading = desk.reading.peek();
  const score = desk.writeScore.peek();
  if (piece !== undefined && reading !== undefined && score !== undefined)
    listening.both(piece.take, reading, score, piece.instrument, {
      ...options(desk),
      mallet: piece.mallet,
    });
};

/** What is chosen to be heard in Write: the page, the take, or both at once. */
export const hearChosen = (desk: Desk, listening: Listening): void => {
  const { what } = desk.hearSettings.peek();
  ({ page: hearPage, take: hearTake, both: hearBoth })[what](desk, listening);
};

/** What the projector shows, counted in. @param from where it begins, in semibreves from the first barline */
export const hearProjected = (desk: Desk, listening: Listening, from?: number): void => {
  const isPage = desk.view.peek() === 'write';
  const score = isPage ? desk.writeScore.peek() : desk.growScore.peek();
  if (score === undefined) return;
  listening.score(isPage ? 'page' : 'piece', score, {
    countIn: true,
    ...(from === undefined ? {} : { from }),
  });
};

/** One statement of Grow alone, where it stands. @param from semibreves from the first barline */
export const hearStatement = (desk: Desk, listening: Listening, id: string, from: number): void => {
  const piece = desk.piece.peek();
  const plan = desk.plan.peek();
  if (piece === undefined || plan === undefined) return;
  const statements = plan.statements.filter(s => s.id === id);
  listening.score('statement', pieceScore(piece, { ...plan, statements }), { from });
};
