import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { show, times } from '../../core/foundation/fraction.ts';
import { showMetre } from '../../core/foundation/metre.ts';
import { detailOf, failed, ok, type Result, say } from '../../core/foundation/result.ts';
import type { Mode } from '../../core/foundation/key.ts';
import type { TunedBar } from '../../core/foundation/tunedBar.ts';
import { suggestedKey, suggestionFor } from '../../core/piece/piece.ts';
import { scoreOfReading } from '../../core/score/fromReading.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import { barInSet, learnBars } from '../../core/hearing/barSet.ts';
import type { StruckBar } from '../../core/hearing/hear.ts';
import { heardIn } from '../../core/hearing/soundFile.ts';
import { takeOfBars } from '../../core/hearing/takeOfBars.ts';
import { readStandardMidiFile } from '../../core/take/standardMidiFile.ts';
import type { Take } from '../../core/take/take.ts';

const USAGE = `npm run transcribe -- [--click | --free] [--bars WAV] [--json] [--musicxml DIR] [--midi DIR]
                          FILE ...
  FILE is a standard MIDI file, or a WAV recording of struck bars, which is heard first.
  A recording has no click: it is read as with --free.
  --click     the file's tempo map and time signature are the click it was played to
  --free      there was no click: tempo, beat and metre are found
  (neither)   a click when the file has another tempo or metre than 120 in four, which recorders write
              that know no beat; with these, where the strikes lie on them
  --bars WAV  a recording of every bar of the instrument struck once, in any order: which bars there are and
              how each is tuned is learnt from it, and every strike is one of them
  --json      one JSON line per file, onsets and lengths in crotchets from the file's first barline; of a
              recording also what was heard: "strikes": [{"at": seconds, "sounding": MIDI number,
              "pitch": the same between the semitones, "velocity", "nextBest": what it may be instead}]
  --musicxml, --midi   write every reading into this folder
Exit code 1 when a file could not be read (the others still are), 2 when the command line is wrong or no
bars are learnt from --bars.`;

interface Orders {
  readonly beat: 'click' | 'free' | 'either';
  readonly json: boolean;
  /** The recording that every bar is struck in once. */
  readonly bars: string | undefined;
  readonly folders: ReadonlyMap<string, string>;
  readonly files: readonly string[];
}

/** Writes one reading somewhere; each writer is switched on by naming its folder. */
type Writer = (reading: Reading, rank: number, take: Take, folder: string, stem: string) => void;

const scoreOf = (reading: Reading, stem: string): ReturnType<typeof scoreOfReading> =>
  scoreOfReading(reading, suggestedKey(reading), 'marimba', stem, '');

const write = (folder: string, name: string, bytes: string | Uint8Array): void => {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, name), bytes);
};

/** One line per kind of file that a reading can be written as. */
const WRITERS: Readonly<Record<string, Writer>> = {
  '--musicxml': (reading, rank, _take, folder, stem) => {
    write(folder, `${stem}-${String(rank + 1)}.musicxml`, musicXml(scoreOf(reading, stem)));
  },
  '--midi': (reading, rank, _take, folder, stem) => {
    write(folder, `${stem}-${String(rank + 1)}.mid`, standardMidi(scoreOf(reading, stem)));
  },
};

const ordersOf = (args: readonly string[]): Orders | string => {
  let beat: Orders['beat'] = 'either';
  let json = false;
  let bars: string | undefined;
  const folders = new Map<string, string>();
  const files: string[] = [];
  for (let i = 0; i < args.length; i++) {
    const arg = args[i] ?? '';
    if (arg === '--click' || arg === '--free') {
      if (beat !== 'either' && beat !== arg.slice(2)) return '--click and --free exclude each other.';
      beat = arg === '--click' ? 'click' : 'free';
    } else if (arg === '--json') json = true;
    else if (arg === '--bars') {
      bars = args[++i];
      if (bars === undefined) return '--bars needs a WAV recording.';
    } else if (arg === '--musicxml' || arg === '--midi') {
      if (WRITERS[arg] === undefined) return `${arg} is not there yet.`;
      const folder = args[++i];
      if (folder === undefined) return `${arg} needs a folder.`;
      folders.set(arg, folder);
    } else if (arg.startsWith('--')) return `There is no option ${arg}.`;
    else files.push(arg);
  }
  return files.length === 0 ? 'Which file?' : { beat, json, bars, folders, files };
};

/** The suggested key, in ASCII: F# minor, Bb dorian. */
const keyOf = (reading: Reading): { tonic: string; mode: Mode; sure: number } => {
  const { key, sure } = suggestionFor(reading);
  const { letter, alter } = key.tonic;
  return { tonic: letter + (alter > 0 ? '#' : alter < 0 ? 'b' : ''), mode: key.mode, sure };
};

const asJson = (
  file: string,
  readings: readonly Reading[],
  strikes: readonly StruckBar[] | undefined,
): string =>
  JSON.stringify({
    file,
    ...(strikes === undefined ? {} : { strikes }),
    readings: readings.map(r => ({
      confidence: r.confidence,
      reason: r.reason,
      metre: showMetre(r.metre),
      tempo: r.tempo,
      key: keyOf(r),
      ...(r.swing === undefined ? {} : { swing: r.swing.ratio }),
      ...(r.period === undefined ? {} : { period: r.period }),
      notes: r.notes.map(n => ({
        onset: show(times(n.onset, 4)),
        duration: show(times(n.duration, 4)),
        pitch: n.pitch,
        doubt: n.doubt,
        ...(n.grace === undefined ? {} : { grace: n.grace.pitch }),
        ...(n.ruff === undefined ? {} : { ruff: n.ruff.map(g => g.pitch) }),
        ...(n.roll === undefined ? {} : { rolled: n.roll.length }),
        ...(n.gliss === undefined ? {} : { glissando: n.gliss.to }),
      })),
    })),
  });

const asText = (file: string, readings: readonly Reading[]): string =>
  [
    file,
    ...readings.map((r, rank) => {
      const head = `  ${String(rank + 1)}. ${showMetre(r.metre)}, ${r.tempo.toFixed(0)} a minute, ${r.reason} (sure: ${(100 * r.confidence).toFixed(0)} %, misfit ${r.misfit.toFixed(0)} ms)`;
      const notes = r.notes.map(
        n => `${show(times(n.onset, 4))}:${show(times(n.duration, 4))}${n.doubt > 0.3 ? '?' : ''}`,
      );
      return `${head}\n     ${notes.join('  ')}`;
    }),
  ].join('\n');

/** What each order means to the reader of MIDI files; left out, the file tells. */
const CLICK = { click: { click: 'tempo-map' }, free: { click: 'none' }, either: {} } as const;

/** A take out of a file; of a recording also what was heard in it. */
const takeIn = (
  bytes: Uint8Array,
  file: string,
  { beat, set }: { readonly beat: Orders['beat']; readonly set: readonly TunedBar[] },
): Result<{ readonly take: Take; readonly strikes: readonly StruckBar[] | undefined }> => {
  const name = basename(file);
  if (!/\.wav$/i.test(file)) {
    const take = readStandardMidiFile(bytes, name, CLICK[beat]);
    return take.ok ? ok({ take: take.value, strikes: undefined }) : take;
  }
  const heard = heardIn({ name, bytes });
  if (!heard.ok) return heard;
  const strikes = heard.value.map(bar => barInSet(set, bar));
  const take = takeOfBars(strikes, { id: 'heard', capturedAt: '', from: name, soundsAbove: 0 });
  return take.ok ? ok({ take: take.value, strikes }) : take;
};

/** The bars of the instrument, from a recording that each is struck in once; none where there is no recording. */
const barsIn = (file: string | undefined): Result<readonly TunedBar[]> => {
  if (file === undefined) return ok([]);
  let bytes: Uint8Array;
  try {
    bytes = readFileSync(file);
  } catch {
    return failed({
      kind: 'damaged-file',
      what: `${basename(file)} cannot be opened.`,
      kept: 'Nothing was read.',
      next: 'Check its name and place.',
    });
  }
  const heard = heardIn({ name: basename(file), bytes });
  return heard.ok ? learnBars(heard.value.map(bar => bar.pitch)) : heard;
};

const main = (args: readonly string[]): number => {
  const orders = ordersOf(args);
  if (typeof orders === 'string') {
    process.stderr.write(`${orders}\n${USAGE}\n`);
    return 2;
  }
  const set = barsIn(orders.bars);
  if (!set.ok) {
    process.stderr.write(`${say(set.problem)}\n`);
    return 2;
  }
  let code = 0;
  const complain = (file: string, problem: string): void => {
    code = 1;
    process.stdout.write(
      orders.json ? `${JSON.stringify({ file, readings: [], problem })}\n` : `${file}\n  ${problem}\n`,
    );
  };
  for (const file of orders.files) {
    let bytes: Uint8Array;
    try {
      bytes = readFileSync(file);
    } catch {
      complain(file, `${basename(file)} cannot be opened. Check its name and place.`);
      continue;
    }
    const result = takeIn(bytes, file, { beat: orders.beat, set: set.value });
    if (!result.ok) {
      complain(file, say(result.problem));
      continue;
    }
    const { take, strikes } = result.value;
    const readings = readTake(take);
    process.stdout.write(`${orders.json ? asJson(file, readings, strikes) : asText(file, readings)}\n`);
    const stem = basename(file).replace(/\.(midi?|wav)$/i, '');
    for (const [kind, folder] of orders.folders) {
      try {
        readings.forEach((reading, rank) => WRITERS[kind]?.(reading, rank, take, folder, stem));
      } catch (thrown) {
        code = 1;
        process.stderr.write(
          `Nothing could be written into ${folder}: ${detailOf(thrown)}. The readings above are complete.\n`,
        );
      }
    }
  }
  return code;
};

process.exitCode = main(process.argv.slice(2));
