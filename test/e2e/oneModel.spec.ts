import { parseMidi } from 'midi-file';
import { type Browser, expect, type Page, test } from 'playwright/test';
import { toNumber } from '../../core/foundation/fraction.ts';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { wav16 } from '../../core/exchange/wav.ts';
import { tactus } from '../../core/foundation/metre.ts';
import { midiOf } from '../../core/foundation/pitch.ts';
import { INSTRUMENTS } from '../../core/instruments/instruments.ts';
import { perform } from '../../core/playback/perform.ts';
import { frequencyOf } from '../../core/playback/barModes.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import type { Score } from '../../core/score/score.ts';
import { loaded } from '../exchange/byVerovio.ts';
import { IDEA, planOfFour } from '../exchange/pieces.ts';
import { onsetsIn } from '../playback/onsets.ts';
import { centsBetween, strongestNear, toneAt } from '../playback/tones.ts';
import { openSoundPage, renderIn } from './soundPage.ts';

// One model: what the score says, MusicXML, MIDI and WAV say too, each read by something that is not ours.

const RATE = 44100;
let browser: Browser;
let page: Page;
test.beforeAll(async () => {
  ({ browser, page } = await openSoundPage());
});
test.afterAll(async () => {
  await browser.close();
});

/** Four parts (motif, canon, augmentation, diminution), four bars, faster from bar 3 on. */
const piece = (): Score =>
  scoreOfPlan(IDEA, { ...planOfFour(), tempi: [{ bar: 2, tempo: 120 }] }, 'Ferry bell', 'Heron');

interface Struck {
  /** Seconds from the start. */
  readonly at: number;
  /** As it sounds. */
  readonly pitch: number;
}

/**
 * Every struck note by the score's own symbols, in seconds by the metronome marks: worked out here,
 * without the code that plays.
 */
const struckIn = (score: Score): readonly Struck[] => {
  const beat = toNumber(tactus(score.metre));
  const marks = [
    { at: 0, tempo: score.tempo },
    ...(score.tempi ?? []).map(t => ({ ...t, at: toNumber(t.at) })),
  ];
  const seconds = (at: number): number =>
    marks.reduce((so, mark, i) => {
      const end = Math.min(at, marks[i + 1]?.at ?? Infinity);
      return end > mark.at ? so + (((end - mark.at) / beat) * 60) / mark.tempo : so;
    }, 0);
  return score.parts
    .flatMap(part =>
      part.bars.flatMap(bar =>
        bar.symbols
          .filter(symbol => !symbol.tiedFrom)
          .flatMap(symbol =>
            symbol.pitches.map(({ spelled }) => ({
              at: seconds(toNumber(symbol.onset)),
              pitch: midiOf(spelled) + INSTRUMENTS[part.instrument].soundsAbove,
            })),
          ),
      ),
    )
    .sort((a, b) => a.at - b.at || a.pitch - b.pitch);
};

/** The strokes of a MIDI file in seconds, by its own tempo events (midi-file parses it). */
const struckInMidi = (bytes: Uint8Array): readonly Struck[] => {
  const midi = parseMidi(bytes);
  const ppq = midi.header.ticksPerBeat ?? 0;
  const tempi: { ticks: number; micros: number }[] = [];
  const notes: { ticks: number; pitch: number }[] = [];
  for (const track of midi.tracks) {
    let ticks = 0;
    for (const event of track) {
      ticks += event.deltaTime;
      if (event.type === 'setTempo') tempi.push({ ticks, micros: event.microsecondsPerBeat });
      if (event.type === 'noteOn' && event.velocity > 0) notes.push({ ticks, pitch: event.noteNumber });
    }
  }
  tempi.sort((a, b) => a.ticks - b.ticks);
  const seconds = (at: number): number =>
    tempi.reduce((so, tempo, i) => {
      const end = Math.min(at, tempi[i + 1]?.ticks ?? Infinity);
      return end > tempo.ticks ? so + (((end - tempo.ticks) / ppq) * tempo.micros) / 1e6 : so;
    }, 0);
  return notes
    .map(note => ({ at: seconds(note.ticks), pitch: note.pitch }))
    .sort((a, b) => a.at - b.at || a.pitch - b.pitch);
};

/** The largest difference in time, note by note of each pitch; every pitch must be struck as often. */
const worst = (found: readonly Struck[], wanted: readonly Struck[]): number => {
  const byPitch = (list: readonly Struck[]): readonly Struck[] =>
    [...list].sort((a, b) => a.pitch - b.pitch || a.at - b.at);
  const [these, those] = [byPitch(found), byPitch(wanted)];
  expect(these.map(note => note.pitch)).toEqual(those.map(note => note.pitch));
  return Math.max(...these.map((note, i) => Math.abs(note.at - (those[i]?.at ?? Infinity))));
};

/** Samples of a 16-bit stereo WAV file, its channels added, by the file's own header. */
const readWav = (bytes: Uint8Array): { rate: number; samples: Float64Array } => {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const frames = view.getUint32(40, true) / 4;
  return {
    rate: view.getUint32(24, true),
    samples: Float64Array.from(
      { length: frames },
      (_, i) => (view.getInt16(44 + 4 * i, true) + view.getInt16(46 + 4 * i, true)) / 65536,
    ),
  };
};

test('MusicXML read by Verovio has the onsets and pitches of the score, through a change of tempo', async () => {
  const score = piece();
  const reader = await loaded(musicXml(score));
  const found = struckInMidi(Buffer.from(reader.renderToMIDI(), 'base64'));
  // Its MIDI has 120 ticks a crotchet, and rounds down: one is 5.4 ms at crotchet 92.
  expect(worst(found, struckIn(score))).toBeLessThan(0.0055);
});

test('the MIDI file read by midi-file has the onsets and pitches of the score', () => {
  const score = piece();
  // 960 ticks a crotchet, and tempi in whole microseconds.
  expect(worst(struckInMidi(standardMidi(score)), struckIn(score))).toBeLessThan(0.0005);
});

test('the WAV heard by an onset detector has the onsets and pitches of the score, and no others', async () => {
  const score = piece();
  const { left, right } = await renderIn(page, perform(score), RATE);
  const { rate, samples } = readWav(wav16([left, right], RATE));
  expect(rate).toBe(RATE);
  const wanted = struckIn(score);
  const moments = [...new Set(wanted.map(note => note.at.toFixed(6)))].map(Number).sort((a, b) => a - b);
  // The piece never asks for two moments nearer than the detector can part.
  expect(Math.min(...moments.slice(1).map((at, i) => at - (moments[i] ?? 0)))).toBeGreaterThan(0.04);
  const heard = onsetsIn(samples, rate);
  expect(heard).toHaveLength(moments.length);
  const off = heard.map((at, i) => Math.abs(at - (moments[i] ?? Infinity)));
  // The detector's own grain: surprise over 2 ms, at strokes that rise in 0.2 to 1.5 ms.
  expect(Math.max(...off)).toBeLessThan(0.003);
  console.log(
    `WAV: ${String(heard.length)} onsets of ${String(moments.length)}, worst ${(Math.max(...off) * 1000).toFixed(1)} ms`,
  );

  const window = Math.round(0.09 * rate);
  let rose = 0;
  for (const { at, pitch } of wanted) {
    const said = `${String(pitch)} at ${at.toFixed(3)} s`;
    const from = Math.round((at + 0.004) * rate);
    const frequency = frequencyOf(pitch);
    // The strongest tone within 60 cents is the note, to a tenth of a semitone...
    const found = strongestNear(samples, frequency, rate, from, window, 60);
    expect(Math.abs(centsBetween(found, frequency)), said).toBeLessThan(10);
    // ...and it was struck here: louder than just before. Where the same pitch still rings from another
    // stroke, the two may cancel, and only the tone itself is held to.
    const alone = wanted.every(
      other => other.pitch !== pitch || other.at === at || other.at < at - 1.2 || other.at > at + 0.1,
    );
    const twice = wanted.filter(other => other.pitch === pitch && other.at === at).length > 1;
    if (!alone || twice || at < 0.1) continue;
    const before = toneAt(samples, frequency, rate, from - Math.round(0.01 * rate) - window, window);
    expect(toneAt(samples, frequency, rate, from, window), said).toBeGreaterThan(2 * before);
    rose += 1;
  }
  expect(rose).toBeGreaterThan(15);
});

test("a part's balance is in the WAV, in decibels, and leaves the other parts alone", async () => {
  const withBalance = (balance: number | undefined): Score => {
    const plan = planOfFour();
    return scoreOfPlan(
      IDEA,
      {
        ...plan,
        parts: plan.parts
          .slice(0, 2)
          .map((part, i) => (i === 1 && balance !== undefined ? { ...part, balance } : part)),
        statements: plan.statements.filter(s => plan.parts.slice(0, 2).some(part => part.id === s.part)),
      },
      'Ferry bell',
      'Heron',
    );
  };
  // Soft enough to stay below the limiter's knee, where levels are untouched.
  const soft = (score: Score): Parameters<typeof renderIn>[1] => {
    const music = perform(score);
    return { ...music, events: music.events.map(event => ({ ...event, velocity: 40 })) };
  };
  const levels = async (balance: number | undefined): Promise<readonly [number, number]> => {
    const score = withBalance(balance);
    const { left, right } = await renderIn(page, soft(score), RATE);
    const both = left.map((sample, i) => sample + (right[i] ?? 0));
    const struck = perform(score).events;
    const levelOf = (part: string | undefined): number => {
      const first = struck.find(event => event.part === part);
      return toneAt(
        both,
        frequencyOf(first?.pitch ?? 0),
        RATE,
        Math.round((first?.seconds ?? 0) * RATE),
        Math.round(0.15 * RATE),
      );
    };
    return [levelOf(score.parts[0]?.id), levelOf(score.parts[1]?.id)];
  };
  const even = await levels(undefined);
  const db = (now: number, then: number): number => 20 * Math.log10(now / then);
  for (const balance of [-12, 6]) {
    const now = await levels(balance);
    expect(db(now[1], even[1]), `${String(balance)} dB`).toBeCloseTo(balance, 0);
    expect(Math.abs(db(now[0], even[0]))).toBeLessThan(0.3);
  }
});
