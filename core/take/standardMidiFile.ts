import { times, toNumber } from '../foundation/fraction.ts';
import { Midi } from '../foundation/midiLibrary.ts';
import { type Metre, metre, parseMetre, tactus } from '../foundation/metre.ts';
import { detailOf, failed, ok, type Problem, type ProblemKind, type Result } from '../foundation/result.ts';
import { likelierOnGrid } from './fileGrid.ts';
import { scanMidi } from './scanMidi.ts';
import type { Click, Strike, Take } from './take.ts';

/** Larger than any take: a file beyond it is refused before it is parsed. */
export const LARGEST_FILE = 8 * 1024 * 1024;
/** Beats after which a tempo map is no click any more (more than five hours at 60 a minute). */
const MOST_BEATS = 20_000;
const PERCUSSION = 9; // channel 10, counted from 0

export interface MidiFileOptions {
  /**
   * Take the tempo map and time signature for the click played to, or ignore them. Left out, they are taken
   * where they say something; an even 120 in four, which recorders write that know no beat, only where
   * the strikes lie on it.
   */
  readonly click?: 'tempo-map' | 'none';
  /** Read channel 10 as bars of an instrument; it is so read anyway when there is nothing else. */
  readonly treatDrumsAsPitched?: boolean;
  readonly id?: string;
  readonly capturedAt?: string;
}

const refuse = (
  kind: ProblemKind,
  what: string,
  next: string,
  detail: string,
): { ok: false; problem: Problem } =>
  failed({ kind, what, kept: 'The file itself was not changed.', next, detail });

/** A name for the content: the same bytes always get the same one (FNV-1a, twice 32 bits). */
const fingerprint = (bytes: Uint8Array): string => {
  let a = 0x811c9dc5;
  let b = 0x01000193;
  for (const byte of bytes) {
    a = Math.imul(a ^ byte, 0x01000193) >>> 0;
    b = Math.imul(b ^ (byte + 0x9e), 0x85ebca6b) >>> 0;
  }
  return a.toString(16).padStart(8, '0') + b.toString(16).padStart(8, '0');
};

interface Tempo {
  readonly ticks: number;
  readonly bpm: number;
}

/** Seconds at a tick, walking the tempo map once; asked for in rising order of ticks. */
const clock = (tempos: readonly Tempo[], ppq: number): ((ticks: number) => number) => {
  const map = [...tempos].sort((a, b) => a.ticks - b.ticks);
  const starts: { ticks: number; at: number; perTick: number }[] = [{ ticks: 0, at: 0, perTick: 0.5 / ppq }];
  for (const tempo of map) {
    const last = starts[starts.length - 1];
    if (last === undefined) break;
    const perTick = 60 / tempo.bpm / ppq;
    if (tempo.ticks <= last.ticks) starts[starts.length - 1] = { ...last, perTick };
    else
      starts.push({ ticks: tempo.ticks, at: last.at + (tempo.ticks - last.ticks) * last.perTick, perTick });
  }
  return ticks => {
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((starts[middle]?.ticks ?? 0) <= ticks) low = middle;
      else high = middle - 1;
    }
    const s = starts[low];
    return s === undefined ? 0 : s.at + (ticks - s.ticks) * s.perTick;
  };
};

const clickOf = (
  m: Metre,
  ppq: number,
  lastTick: number,
  seconds: (t: number) => number,
): Click | undefined => {
  const step = Math.round(toNumber(times(tactus(m), 4)) * ppq);
  const count = Math.max(2, Math.ceil(lastTick / step) + 2);
  if (step < 1 || count > MOST_BEATS) return undefined;
  return { metre: m, beats: Array.from({ length: count }, (_, k) => seconds(k * step)) };
};

/**
 * How many times likelier the strikes must be on the file's beats than anywhere to be taken for played to
 * them, where the file has only the tempo that players take where none is written: 120 crotchets a minute.
 * With a time signature of four, which some recorders write unasked, as likely will do. Undefined where
 * the file has another tempo or metre: somebody set it. Our choice; of 2125 playings without a click and 249 to
 * one, at 120, 12 and 118 are mistaken without a time signature, and 244 and 38 with one.
 */
const likelierWanted = ({
  tempos,
  timeSignatures,
}: InstanceType<typeof Midi>['header']): number | undefined => {
  const isSet =
    tempos.some(({ bpm }) => bpm !== 120) ||
    timeSignatures.some(({ timeSignature: [upper, lower] }) => upper !== 4 || lower !== 4);
  if (isSet) return undefined;
  return timeSignatures.length === 0 ? 20 : 1;
};

/**
 * Reads a standard MIDI file into a take. Times come from ticks and the tempo map; a note-on with
 * velocity 0 is a note-off; the click (if wanted, or if the file tells one) has its first beat on tick 0, the
 * file's first barline, in the file's first time signature.
 * Problems: 'too-large' (over 8 MB, or more notes or beats than a take has), 'not-midi',
 * 'damaged-midi', 'no-notes'. Never throws.
 */
export const readStandardMidiFile = (
  bytes: Uint8Array,
  name: string,
  options: MidiFileOptions = {},
): Result<Take> => {
  if (bytes.length > LARGEST_FILE) {
    return refuse(
      'too-large',
      `${name} is larger than 8 MB.`,
      'Choose a shorter recording.',
      String(bytes.length),
    );
  }
  const scan = scanMidi(bytes);
  if (scan.kind === 'not-midi') {
    return refuse(
      'not-midi',
      `${name} is not a standard MIDI file.`,
      'Choose a file that ends in .mid.',
      scan.detail,
    );
  }
  if (scan.kind === 'damaged') {
    return refuse(
      'damaged-midi',
      `${name} is damaged or cut short.`,
      'Export or copy it again.',
      scan.detail,
    );
  }
  if (scan.kind !== 'whole') {
    return refuse(
      'too-large',
      `${name} holds more notes than a take.`,
      'Choose a shorter recording.',
      scan.detail,
    );
  }
  if (scan.division & 0x8000) {
    return refuse(
      'damaged-midi',
      `${name} counts film frames, not beats.`,
      'Export it with beats.',
      'SMPTE division',
    );
  }
  const none = () =>
    refuse('no-notes', `${name} holds no notes.`, 'Check that the right track was exported.', '');
  if (scan.notes === 0) return none();
  let midi: InstanceType<typeof Midi>;
  try {
    midi = new Midi(scan.bytes);
  } catch (thrown) {
    return refuse('damaged-midi', `${name} is damaged.`, 'Export or copy it again.', detailOf(thrown));
  }
  const { ppq, tempos, timeSignatures } = midi.header;
  const seconds = clock(
    tempos.filter(t => t.bpm > 0 && Number.isFinite(t.bpm)),
    ppq,
  );
  const pitched = midi.tracks.filter(t => t.channel !== PERCUSSION && t.notes.length > 0);
  const tracks = pitched.length === 0 || options.treatDrumsAsPitched === true ? midi.tracks : pitched;
  const drums = tracks.every(t => t.channel === PERCUSSION || t.notes.length === 0);
  let lastTick = 0;
  const strikes: Strike[] = [];
  for (const track of tracks) {
    for (const note of track.notes) {
      lastTick = Math.max(lastTick, note.ticks);
      strikes.push({
        at: seconds(note.ticks),
        pitch: note.midi,
        velocity: Math.max(1, Math.min(127, Math.round(note.velocity * 127))),
        until: seconds(note.ticks + Math.max(0, note.durationTicks)),
      });
    }
  }
  if (strikes.length === 0) return none();
  strikes.sort((a, b) => a.at - b.at || a.pitch - b.pitch);
  const [upper, lower] = timeSignatures[0]?.timeSignature ?? [4, 4];
  const m = parseMetre(`${String(upper)}/${String(lower)}`) ?? metre(4, 4);
  const likelier = likelierWanted(midi.header);
  const onsets = strikes.map(s => s.at);
  const told = likelier === undefined || likelierOnGrid(onsets, 0.5) >= likelier ? 'tempo-map' : 'none';
  const wanted = options.click ?? told;
  const click = wanted === 'none' ? undefined : clickOf(m, ppq, lastTick, seconds);
  if (wanted !== 'none' && click === undefined) {
    return refuse(
      'too-large',
      `${name} is longer than a take.`,
      'Choose a shorter recording.',
      String(lastTick),
    );
  }
  return ok({
    id: options.id ?? `file-${fingerprint(bytes)}`,
    capturedAt: options.capturedAt ?? '1970-01-01T00:00:00.000Z',
    source: 'file',
    from: name,
    ...(click === undefined ? {} : { click }),
    latency: 0,
    strikes,
    lengthsMean: !drums,
  });
};
