import { musicXml } from '../../core/exchange/musicXml.ts';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { wav16 } from '../../core/exchange/wav.ts';
import { type Piece, pieceScore, readingScore } from '../../core/piece/piece.ts';
import { perform } from '../../core/playback/perform.ts';
import { detailOf } from '../../core/foundation/result.ts';
import type { Score } from '../../core/score/score.ts';
import type { Sound } from '../sound/sound.ts';
import { notice } from './app.ts';
import { complain } from './change.ts';

/** The score a piece is handed on as: the piece once something was grown, the written idea before. */
export const scoreToHandOn = (piece: Piece): Score =>
  piece.plan === undefined && piece.motifBars === undefined ? readingScore(piece) : pieceScore(piece);

/** A file name that every system takes. */
export const fileName = (piece: Piece, ending: string): string =>
  `${
    `${piece.codeName} ${piece.title}`
      .replace(/[^\p{L}\p{N} _-]+/gu, '')
      .trim()
      .replace(/\s+/g, '-') || 'piece'
  }.${ending}`;

const download = (name: string, bytes: BlobPart, type: string): void => {
  const url = URL.createObjectURL(new Blob([bytes], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => {
    URL.revokeObjectURL(url);
  }, 10_000);
  notice.value = `${name} was made.`;
};

export const exportMusicXml = (piece: Piece): void => {
  download(
    fileName(piece, 'musicxml'),
    musicXml(scoreToHandOn(piece)),
    'application/vnd.recordare.musicxml+xml',
  );
};

export const exportMidi = (piece: Piece): void => {
  download(fileName(piece, 'mid'), standardMidi(scoreToHandOn(piece)).slice().buffer, 'audio/midi');
};

/** Renders the piece without playing it and hands it on as a WAV file. */
export const exportWav = async (piece: Piece, sound: Sound): Promise<void> => {
  try {
    const { left, right } = await sound.renderOffline(perform(scoreToHandOn(piece)), 44100);
    download(fileName(piece, 'wav'), wav16([left, right], 44100).slice().buffer, 'audio/wav');
  } catch (thrown) {
    complain({
      kind: 'unexpected',
      what: 'The recording could not be made.',
      kept: 'The piece is as it was.',
      next: 'Try again; a shorter piece may fit into memory.',
      detail: detailOf(thrown),
    });
  }
};
