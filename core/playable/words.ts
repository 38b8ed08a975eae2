import type { Fraction } from '../foundation/fraction.ts';
import type { Metre } from '../foundation/metre.ts';
import { key, spell } from '../foundation/key.ts';
import { pitchName } from '../foundation/pitch.ts';
import type { MidiPitch } from '../foundation/units.ts';
import { INSTRUMENTS, type InstrumentId } from '../parts/instruments.ts';
import { barAndBeat } from '../parts/plan.ts';
import { type BarSet, barsOf } from './barSet.ts';
import type { NeededBar } from './check.ts';
import type { Remedy } from './remedies.ts';
import type { Hand } from './sticking.ts';
import type { Warning, WarningKind } from './warnings.ts';

/** A bar's name as it is stamped on it, with its octave. @example barName(70) // "B♭4" */
export const barName = (pitch: MidiPitch): string => pitchName(spell(key('C'), pitch));

/** Things in a row. @example inRow(['C4', 'D4', 'E4']) // "C4, D4 and E4" */
export const inRow = (things: readonly string[]): string =>
  things.length < 2 ? (things[0] ?? '') : `${things.slice(0, -1).join(', ')} and ${things.at(-1) ?? ''}`;

/** A place as musicians say it. @example "bar 3, beat 2" */
export const placeWords = (metre: Metre, at: Fraction): string => {
  const { bar, beat } = barAndBeat(metre, at);
  return `bar ${String(bar)}, beat ${String(beat)}`;
};

/** Why a bar a part needs is not there. */
export const lackWords = (set: BarSet, bar: NeededBar): string => {
  const bars = barsOf(set);
  switch (bar.state) {
    case 'below':
      return `${bar.name} is below the lowest bar, ${barName(bars[0] ?? set.low)}`;
    case 'above':
      return `${bar.name} is above the highest bar, ${barName(bars.at(-1) ?? set.high)}`;
    case 'lifted':
      return `${bar.name} is lifted off`;
    case 'missing':
      return `${bar.name} is missing in this room`;
    case 'replaced':
      return `${bar.name} has given its place to ${barName(set.exchange.find(e => e.isIn && e.inPlaceOf === bar.pitch)?.pitch ?? bar.pitch)}`;
    case 'exchange':
      return `${bar.name} is not put in`;
    case 'none':
      return `there is no bar for ${bar.name}`;
    case 'there':
      return `${bar.name} is there`;
  }
};

const counted = (k: number, noun: string): string => (k === 1 ? `a ${noun}` : `${String(k)} ${noun}s`);
const upOrDown = (k: number): string => (k < 0 ? 'down' : 'up');

/** What a remedy does, as a step of the history is named. @example "move it up an octave" */
export const remedyWords = (remedy: Remedy, set: BarSet): string => {
  switch (remedy.kind) {
    case 'octave': {
      const k = Math.abs(remedy.octaves);
      return `move it ${upOrDown(remedy.octaves)} ${k === 1 ? 'an octave' : `${String(k)} octaves`}`;
    }
    case 'steps':
      return `move it ${upOrDown(remedy.steps)} ${counted(Math.abs(remedy.steps), 'step')}`;
    case 'piece':
      return `move the whole piece ${upOrDown(remedy.steps)} ${counted(Math.abs(remedy.steps), 'step')}`;
    case 'bars': {
      const out = remedy.exchange.flatMap(p => set.exchange.find(e => e.pitch === p)?.inPlaceOf ?? []);
      const put =
        remedy.exchange.length === 0
          ? []
          : [`put in ${inRow(remedy.exchange.map(barName))} for ${inRow(out.map(barName))}`];
      const back = remedy.back.length === 0 ? [] : [`put ${inRow(remedy.back.map(barName))} back on`];
      return [...put, ...back].join(' and ');
    }
  }
};

const WARNING: Readonly<Record<WarningKind, string>> = {
  three: 'more notes at once than two mallets can strike',
  cap: 'faster than two hands can strike at all',
  fast: 'very fast, even hand after hand',
  hand: 'faster than one hand can',
  leap: 'one hand has to leap more than an octave in too short a time',
};

/** How many places are named before the rest is only counted. */
const NAMED = 3;

/** @example "Bar 3, beat 2: faster than one hand can" */
export const warningWords = (metre: Metre, warning: Warning): string => {
  const all = [...new Set(warning.places.map(at => placeWords(metre, at)))];
  const rest = all.length - NAMED;
  const named = all.slice(0, NAMED);
  const places =
    rest > 0
      ? `${named.join('; ')}; and ${counted(rest, 'more place').replace(/^a /, 'one ')}`
      : named.join('; ');
  return `${places.charAt(0).toUpperCase()}${places.slice(1)}: ${WARNING[warning.kind]}`;
};

/** How a set sounds against what is written. */
export const soundsWords = (set: BarSet): string => {
  const octaves = set.soundsAbove / 12;
  if (octaves === 0) return 'sounds as written';
  const k = Math.abs(octaves);
  return `sounds ${k === 1 ? 'an octave' : `${String(k)} octaves`} ${octaves > 0 ? 'higher' : 'lower'} than written`;
};

/** How a set sounds against what the app plays for the part; empty where alike. */
export const heardWords = (set: BarSet, instrument: InstrumentId): string => {
  const octaves = (set.soundsAbove - INSTRUMENTS[instrument].soundsAbove) / 12;
  if (octaves === 0) return '';
  const k = Math.abs(octaves);
  return `sounds ${k === 1 ? 'an octave' : `${String(k)} octaves`} ${octaves > 0 ? 'higher' : 'lower'} than you hear it here`;
};

/** Hands as written under the notes; both at once together. */
export const handWords = (hands: readonly Hand[]): string =>
  hands.map(hand => (hand === 'B' ? 'LR' : hand)).join(' ');

/** Bars with their hands, bars in a row that are alike said once. @example "Bars 1 to 4: R L R L" */
export const stickingLines = (
  bars: readonly { readonly bar: number; readonly hands: readonly Hand[] }[],
): readonly string[] => {
  const runs: { from: number; to: number; text: string }[] = [];
  for (const { bar, hands } of bars) {
    const text = handWords(hands);
    const last = runs.at(-1);
    if (last !== undefined && last.text === text && last.to === bar - 1) last.to = bar;
    else runs.push({ from: bar, to: bar, text });
  }
  return runs.map(({ from, to, text }) =>
    from === to ? `Bar ${String(from)}: ${text}` : `Bars ${String(from)} to ${String(to)}: ${text}`,
  );
};
