import { composingLog } from '../../../core/evidence/composingLog.ts';
import { evidencePack, type PackedFile } from '../../../core/evidence/evidencePack.ts';
import { evidenceSheet } from '../../../core/evidence/evidenceSheet.ts';
import { lengthWords } from '../../../core/evidence/lengthWords.ts';
import { musicXml } from '../../../core/exchange/musicXml.ts';
import { playedMidi } from '../../../core/exchange/playedMidi.ts';
import { standardMidi } from '../../../core/exchange/standardMidi.ts';
import { wav16 } from '../../../core/exchange/wav.ts';
import { detailOf } from '../../../core/foundation/result.ts';
import { factsOf } from '../../../core/library/facts.ts';
import { type Piece, pieceScore } from '../../../core/piece/piece.ts';
import { perform, scoreLength } from '../../../core/playback/perform.ts';
import { secondsAtOnset } from '../../../core/playback/seconds.ts';
import type { Score } from '../../../core/score/score.ts';
import type { Sound } from '../../sound/sound.ts';
import { complain, tell } from '../commands/messages.ts';
import { setWork } from '../commands/work.ts';
import type { Desk } from '../desk.ts';
import { download, fileName, onPaper, scoreToHandOn, scoreToRead } from './handOn.ts';

/** Everything that is handed in with a piece, in one archive of open formats. */
export interface EvidenceMaking {
  /** Makes it of this piece. @param versions when versions were kept, in words, oldest first */
  readonly make: (piece: Piece, versions: readonly string[]) => Promise<void>;
  /** Ends what is under way; nothing is made. */
  readonly stop: () => void;
}

/** Seconds that a piece lasts as it is handed on. */
export const lasting = (piece: Piece): number => {
  const score = scoreToHandOn(piece);
  return secondsAtOnset(score, scoreLength(score));
};

/** A day in words, for paper that is read years later. */
export const dayOf = (iso: string): string => {
  const at = new Date(iso);
  return Number.isNaN(at.getTime())
    ? 'a day that is not known'
    : at.toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
};

class Stopped extends Error {}

const RATE = 44_100;

export const createEvidence = (desk: Desk, sound: Pick<Sound, 'renderOffline'>): EvidenceMaking => {
  let isAtWork = false;
  let isStopped = false;

  /** Says how far the work is, lets the page be drawn, and ends where Stop was pressed. */
  const goOn = async (text: string): Promise<void> => {
    desk.run(setWork, { text: `EvidenceMaking pack: ${text}`, isFile: true });
    await new Promise(rest => setTimeout(rest));
    if (isStopped) throw new Stopped();
  };

  const pdfOf = async (piece: Piece, what: 'score' | 'parts'): Promise<Uint8Array> => {
    const { makePdf } = await import('../../pdf/makePdf.ts');
    const all = [{ score: scoreToRead(desk, piece), className: piece.className }];
    return (await makePdf(all, what, onPaper(desk))).bytes;
  };

  const wavOf = async (score: Score): Promise<Uint8Array> => {
    const { left, right } = await sound.renderOffline(perform(score), RATE);
    return wav16([left, right], RATE);
  };

  const filesOf = async (piece: Piece): Promise<readonly (PackedFile & { readonly what: string })[]> => {
    const score = scoreToHandOn(piece);
    const file = (ending: string, what: string, bytes: Uint8Array, part = '') => ({
      name: fileName(piece, ending, part),
      what,
      bytes,
    });
    await goOn('the score');
    const paper = [file('pdf', 'the score', await pdfOf(piece, 'score'))];
    if (score.parts.length > 1) {
      await goOn('the parts');
      paper.push(file('pdf', 'each part on pages of its own', await pdfOf(piece, 'parts'), 'parts'));
    }
    await goOn('the recording');
    const recording = file('wav', 'how it sounds, from the written notes', await wavOf(score));
    await goOn('the files');
    return [
      ...paper,
      recording,
      file('mid', 'the notes as a standard MIDI file', standardMidi(score)),
      file('musicxml', 'the score as MusicXML', new TextEncoder().encode(musicXml(scoreToRead(desk, piece)))),
      ...(piece.playings ?? []).map((playing, i) =>
        file(
          'mid',
          'the page, and what was really played to it',
          playedMidi(pieceScore(piece), playing),
          i === 0 ? 'as played' : `as played ${String(i + 1)}`,
        ),
      ),
    ];
  };

  const make = async (piece: Piece, versions: readonly string[]): Promise<void> => {
    const files = await filesOf(piece);
    const { metres, key, treatments } = factsOf(piece);
    const { questions, length } = desk.asked.peek();
    const sheet = evidenceSheet(piece, {
      length: lengthWords(lasting(piece), length),
      about: [
        ['Metre', metres.join(', then ')],
        ['Key', key],
        ['Made with', treatments.join(', ')],
      ],
      log: composingLog(piece, dayOf, desk.nameStyle.peek()),
      questions,
      versions,
      files: files.map(({ name, what }) => [name, what] as const),
    });
    const packed = evidencePack(
      [...files, { name: fileName(piece, 'html', 'sheet'), bytes: new TextEncoder().encode(sheet) }],
      new Date(),
    );
    download(desk, fileName(piece, 'zip', 'evidence'), packed.slice().buffer, 'application/zip');
  };

  return {
    make: async (piece, versions) => {
      if (isAtWork) return;
      isAtWork = true;
      isStopped = false;
      try {
        await make(piece, versions);
      } catch (thrown) {
        if (thrown instanceof Stopped) desk.run(tell, 'Stopped; nothing was made.');
        else
          desk.run(complain, {
            kind: 'unexpected',
            what: 'The evidence pack could not be made.',
            kept: 'The piece and what was said of it are as they were.',
            next: 'Try again; or hand on its files one by one.',
            detail: detailOf(thrown),
          });
      } finally {
        isAtWork = false;
        desk.run(setWork, undefined);
      }
    },
    stop: () => {
      isStopped = true;
    },
  };
};
