import { musicXml } from '../../../core/exchange/musicXml.ts';
import { playedMidi } from '../../../core/exchange/playedMidi.ts';
import { standardMidi } from '../../../core/exchange/standardMidi.ts';
import { wav16 } from '../../../core/exchange/wav.ts';
import { firstPlan } from '../../../core/plan/plan.ts';
import type { KeptPlaying } from '../../../core/piece/keptPlaying.ts';
import { type Piece, pieceScore, planOf, readingScore } from '../../../core/piece/piece.ts';
import { perform } from '../../../core/playback/perform.ts';
import { detailOf } from '../../../core/foundation/result.ts';
import { withRepeatBars } from '../../../core/score/repeatBars.ts';
import type { Score } from '../../../core/score/score.ts';
import type { PdfOptions } from '../../pdf/pagesOf.ts';
import type { Sound } from '../../sound/sound.ts';
import { complain, tell } from '../commands/messages.ts';
import type { Desk } from '../desk.ts';

/** The score a piece is handed on as: the piece once something was grown, the written idea before. */
export const scoreToHandOn = (piece: Piece): Score =>
  piece.plan === undefined && piece.motifBars === undefined ? readingScore(piece) : pieceScore(piece);

/** The same as it is written for reading: with repeat bars where the teacher wants them. */
export const scoreToRead = (desk: Desk, piece: Piece): Score =>
  desk.repeatBars.peek() ? withRepeatBars(scoreToHandOn(piece)) : scoreToHandOn(piece);

/** How things go on paper here. */
export const onPaper = (desk: Desk): PdfOptions => ({
  ...desk.paper.peek(),
  nameStyle: desk.nameStyle.peek(),
});

/** Words as part of a file's name: letters and digits, joined. @param otherwise where nothing is left */
export const plainName = (words: string, otherwise: string): string =>
  words
    .replace(/[^\p{L}\p{N} _-]+/gu, '')
    .trim()
    .replace(/\s+/g, '-') || otherwise;

/** A file name that every system takes. @example fileName(piece, 'pdf', 'parts') // "Heron-Ferry-bell-parts.pdf" */
export const fileName = (piece: Piece, ending: string, what = ''): string =>
  `${plainName(`${piece.codeName} ${piece.title} ${what}`, 'piece')}.${ending}`;

/** Lets the browser put a file where it puts files, and says so. */
export const download = (desk: Desk, name: string, bytes: BlobPart, type: string): void => {
  const url = URL.createObjectURL(new Blob([bytes], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => {
    URL.revokeObjectURL(url);
  }, 10_000);
  desk.run(tell, `${name} was made.`);
};

export const exportMusicXml = (desk: Desk, piece: Piece): void => {
  download(
    desk,
    fileName(piece, 'musicxml'),
    musicXml(scoreToRead(desk, piece)),
    'application/vnd.recordare.musicxml+xml',
  );
};

export const exportMidi = (desk: Desk, piece: Piece): void => {
  download(desk, fileName(piece, 'mid'), standardMidi(scoreToHandOn(piece)).slice().buffer, 'audio/midi');
};

/** What was played to a piece last and kept; undefined where nothing was. */
export const lastPlayed = (piece: Piece): KeptPlaying | undefined => piece.playings?.at(-1);

/** The page and what was really played to it, in one MIDI file. */
export const exportPlayed = (desk: Desk, piece: Piece, playing: KeptPlaying): void => {
  const bytes = playedMidi(pieceScore(piece), playing);
  download(desk, fileName(piece, 'mid', 'as played'), bytes.slice().buffer, 'audio/midi');
};

/** Renders the piece without playing it and hands it on as a WAV file. */
export const exportWav = async (desk: Desk, piece: Piece, sound: Sound): Promise<void> => {
  try {
    const { left, right } = await sound.renderOffline(perform(scoreToHandOn(piece)), 44100);
    download(desk, fileName(piece, 'wav'), wav16([left, right], 44100).slice().buffer, 'audio/wav');
  } catch (thrown) {
    desk.run(complain, {
      kind: 'unexpected',
      what: 'The recording could not be made.',
      kept: 'The piece is as it was.',
      next: 'Try again; a shorter piece may fit into memory.',
      detail: detailOf(thrown),
    });
  }
};

/** The score, or one file with each part on pages of its own, as a PDF; made here, without a print dialogue. */
export const exportPdf = async (desk: Desk, piece: Piece, what: 'score' | 'parts'): Promise<void> => {
  try {
    // Fetched when it is first wanted: the app starts without it.
    const { makePdf } = await import('../../pdf/makePdf.ts');
    const all = [{ score: scoreToRead(desk, piece), className: piece.className }];
    const { bytes, missing } = await makePdf(all, what, onPaper(desk));
    const name = fileName(piece, 'pdf', what === 'parts' ? 'parts' : '');
    download(desk, name, bytes.slice().buffer, 'application/pdf');
    if (missing.length > 0)
      desk.run(tell, `${name} was made. Its letters lack ${missing.join(' ')}, which stand as “?”.`);
  } catch (thrown) {
    desk.run(complain, {
      kind: 'unexpected',
      what: 'The PDF could not be made.',
      kept: 'The piece is as it was.',
      next: 'Try again, or use Print.',
      detail: detailOf(thrown),
    });
  }
};

/** The idea itself: the motif once it is cut, the written reading before. */
export const ideaScore = (piece: Piece): Score => {
  if (piece.plan === undefined && piece.motifBars === undefined) return readingScore(piece);
  const alone = pieceScore(piece, firstPlan(piece.instrument, planOf(piece).tempo, piece.mallet));
  return { ...alone, brackets: [] };
};

/** The idea as a picture that stands alone, vector or at 300 dots an inch. */
export const exportPicture = async (desk: Desk, piece: Piece, ending: 'svg' | 'png'): Promise<void> => {
  try {
    const [{ picture }, { asPng }] = await Promise.all([
      import('../../pdf/picture.ts'),
      import('../../pdf/png.ts'),
    ]);
    const made = await picture(ideaScore(piece), onPaper(desk));
    const name = fileName(piece, ending, 'idea');
    if (ending === 'svg') download(desk, name, made.svg, 'image/svg+xml');
    else download(desk, name, (await asPng(made)).slice().buffer, 'image/png');
  } catch (thrown) {
    desk.run(complain, {
      kind: 'unexpected',
      what: 'The picture could not be made.',
      kept: 'The piece is as it was.',
      next: 'Try again, or use PDF.',
      detail: detailOf(thrown),
    });
  }
};
