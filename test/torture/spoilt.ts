import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { wav16 } from '../../core/exchange/wav.ts';
import type { Problem, Result } from '../../core/foundation/result.ts';
import { readWav } from '../../core/hearing/readWav.ts';
import { memoryFolder } from '../../core/library/memoryFolder.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import { makePortable } from '../../core/library/portable/makePortable.ts';
import { readPortable } from '../../core/library/portable/readPortable.ts';
import { decodeSaved } from '../../core/library/saved.ts';
import { readStandardMidiFile } from '../../core/take/standardMidiFile.ts';
import { type Files, pack, value } from '../library/portable/carry.ts';
import { countingTools, fullPiece, sha256 } from '../library/pieces.ts';
import { chance } from './chance.ts';

/** What became of spoilt files of one kind. */
export interface SpoiltReport {
  readonly kind: string;
  readonly tried: number;
  readonly opened: number;
  readonly refused: number;
  /** What was thrown, said without a sentence, or taken in though it was not what was saved. */
  readonly faults: readonly string[];
  /** Milliseconds; reported, and asserted by no test. */
  readonly slowest: number;
}

const EXTREMES = [0, 1, 0x7f, 0x80, 0xff, 0x7fffffff, 0x80000000, 0xffffffff];

/** Bytes with one to eight things done to them: bits turned, cut short, a stretch repeated, left out, or a number made extreme. */
export const spoilt = (bytes: Uint8Array, random: () => number): Uint8Array => {
  const upTo = (most: number): number => Math.floor(random() * Math.max(1, most));
  let now = Uint8Array.from(bytes);
  for (let left = 1 + upTo(8); left > 0; left--) {
    if (now.length === 0) return now;
    const at = upTo(now.length);
    const length = 1 + upTo(Math.min(64, now.length - at));
    const kind = upTo(6);
    if (kind === 0) now[at] = (now[at] ?? 0) ^ (1 << upTo(8));
    else if (kind === 1) now = now.slice(0, Math.max(1, at));
    else if (kind === 2)
      now = Uint8Array.from([...now.slice(0, at), ...now.slice(at, at + length), ...now.slice(at)]);
    else if (kind === 3) now = Uint8Array.from([...now.slice(0, at), ...now.slice(at + length)]);
    else if (kind === 4) now[at] = EXTREMES[upTo(5)] ?? 0;
    else if (now.length >= 4)
      new DataView(now.buffer).setUint32(
        Math.min(at, now.length - 4),
        EXTREMES[upTo(EXTREMES.length)] ?? 0,
        random() < 0.5,
      );
  }
  return now;
};

interface Kind {
  readonly kind: string;
  readonly whole: Uint8Array;
  /** @returns what is wrong with what was opened, if anything */
  readonly open: (bytes: Uint8Array) => Promise<{ readonly read: Result<unknown>; readonly wrong?: string }>;
}

const isSentence = (text: string): boolean => /\S.*[.!?]$/s.test(text);
const told = ({ what, kept, next }: Problem): boolean => [what, kept, next].every(isSentence);

const portableKind = async (): Promise<Kind> => {
  const files: Files = new Map();
  const library = openLibrary(memoryFolder(files), countingTools());
  for (const id of ['a', 'b', 'c']) value(await library.save(fullPiece(id, `Idea ${id}`), []));
  const whole = value(
    await makePortable(
      (await pack(files)).files,
      { of: 'the whole library', madeAt: '2026-01-01T00:00:00.000Z' },
      sha256,
    ),
  );
  return {
    kind: 'portable files',
    whole,
    open: async bytes => {
      const read = await readPortable(bytes, 'work.zip', sha256);
      if (!read.ok) return { read };
      const silent = read.value.refused.filter(problem => !told(problem));
      // Whatever comes in was saved so: by its path where that is known, by its own sum in any case.
      const strange = [];
      for (const file of read.value.files) {
        const saved = await decodeSaved(file.bytes, file.path, sha256);
        const there = files.get(file.path);
        if (saved.ok && there !== undefined && Buffer.compare(there, file.bytes) !== 0)
          strange.push(file.path);
      }
      return silent.length + strange.length === 0
        ? { read }
        : { read, wrong: `${String(silent.length)} silent, strange: ${strange.join(' ')}` };
    },
  };
};

const savedKind = async (): Promise<Kind> => {
  const files: Files = new Map();
  value(await openLibrary(memoryFolder(files), countingTools()).save(fullPiece('a'), []));
  const [[path, whole] = ['', new Uint8Array()]] = files;
  const piece = JSON.stringify(value(await decodeSaved(whole, path, sha256)).piece);
  return {
    kind: 'saved pieces',
    whole,
    open: async bytes => {
      const read = await decodeSaved(bytes, path, sha256);
      // A field that is written twice in a row is the same piece.
      const isOther = read.ok && JSON.stringify(read.value.piece) !== piece;
      return isOther ? { read, wrong: 'another piece was opened as whole' } : { read };
    },
  };
};

const midiKind = (): Kind => ({
  kind: 'MIDI files',
  whole: readFileSync(fileURLToPath(new URL('../../assets/demo/ferry-bell.mid', import.meta.url))),
  open: bytes => {
    const read = readStandardMidiFile(bytes, 'a.mid');
    const unordered =
      read.ok &&
      read.value.strikes.some(
        ({ at, pitch, velocity }) =>
          !Number.isFinite(at) || at < 0 || pitch < 0 || pitch > 127 || velocity < 1 || velocity > 127,
      );
    return Promise.resolve(unordered ? { read, wrong: 'a strike that nobody can play' } : { read });
  },
});

const wavKind = (): Kind => ({
  kind: 'WAV files',
  whole: wav16([Float32Array.from({ length: 4000 }, (_, i) => Math.sin(i / 9))], 22_050),
  open: bytes => {
    const read = readWav(bytes, 'a.wav');
    const loud = read.ok && read.value.samples.some(sample => !(Math.abs(sample) <= 1));
    return Promise.resolve(loud ? { read, wrong: 'a sample beyond full scale' } : { read });
  },
});

/** Opens so many spoilt files of each kind; the same ones for the same seed. */
export const openSpoilt = async (each: number, seed: number): Promise<readonly SpoiltReport[]> => {
  const kinds = [await portableKind(), await savedKind(), midiKind(), wavKind()];
  const reports: SpoiltReport[] = [];
  for (const { kind, whole, open } of kinds) {
    const random = chance(seed);
    const faults: string[] = [];
    let [opened, refused, slowest] = [0, 0, 0];
    for (let i = 0; i < each; i++) {
      const bytes = spoilt(whole, random);
      const from = performance.now();
      try {
        const { read, wrong } = await open(bytes);
        if (read.ok) opened += 1;
        else refused += 1;
        if (wrong !== undefined) faults.push(`${String(i)}: ${wrong}`);
        if (!read.ok && !told(read.problem))
          faults.push(`${String(i)}: no sentence: ${JSON.stringify(read.problem)}`);
      } catch (thrown) {
        faults.push(`${String(i)}: thrown: ${String(thrown)}`);
      }
      slowest = Math.max(slowest, performance.now() - from);
    }
    reports.push({ kind, tried: each, opened, refused, faults, slowest });
  }
  return reports;
};
