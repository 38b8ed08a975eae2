import type { Fraction } from '../foundation/fraction.ts';
import type { MetresInForce } from '../foundation/barring.ts';
import type { Metre } from '../foundation/metre.ts';
import { key, spell } from '../foundation/key.ts';
import { pitchName } from '../foundation/pitch.ts';
import type { BarNumber, MidiPitch } from '../foundation/units.ts';
import { INSTRUMENTS, type InstrumentId } from '../instruments/instruments.ts';
import { barAndBeat } from '../plan/beats.ts';
import { type ToneBarSet, toneBarsOf } from './toneBarSet.ts';
import type { NeededToneBar } from './check.ts';
import type { ToneBarsPut, Remedy } from './remedies.ts';
import type { Hand } from './sticking.ts';
import type { Warning, WarningKind } from './warnings.ts';

/**
 * A bar's name as it is stamped on it, with its octave.
 * @example
 * toneBarName(70) // => 'B♭4'
 */
export const toneBarName = (pitch: MidiPitch): string => pitchName(spell(key('C'), pitch));

/**
 * Things in a row.
 * @example
 * inRow(['C4', 'D4', 'E4']) // => 'C4, D4 and E4'
 */
export const inRow = (things: readonly string[]): string =>
  things.length < 2 ? (things[0] ?? '') : `${things.slice(0, -1).join(', ')} and ${things.at(-1) ?? ''}`;

/**
 * A place as musicians say it.
 * @example
 * barAndBeatWords(metre(4, 4), fraction(9, 4)) // => 'bar 3, beat 2'
 */
export const barAndBeatWords = (metre: Metre | MetresInForce, at: Fraction): string => {
  const { bar, beat } = barAndBeat(metre, at);
  return `bar ${String(bar)}, beat ${String(beat)}`;
};

/** Why bars a part needs are not there, in one sentence for each reason. */
export const lackWords = (set: ToneBarSet, bars: readonly NeededToneBar[]): readonly string[] => {
  const reasons = [...new Set(bars.map(bar => bar.state))];
  return reasons.flatMap(reason => {
    const names = bars.filter(bar => bar.state === reason);
    const all = inRow(names.map(bar => bar.name));
    const are = names.length === 1 ? 'is' : 'are';
    switch (reason) {
      case 'below':
        return [`${all} ${are} below the lowest bar, ${toneBarName(toneBarsOf(set)[0] ?? set.low)}`];
      case 'above':
        return [`${all} ${are} above the highest bar, ${toneBarName(toneBarsOf(set).at(-1) ?? set.high)}`];
      case 'lifted':
        return [`${all} ${are} lifted off`];
      case 'missing':
        return [`${all} ${are} missing in this room`];
      case 'exchange':
        return [`${all} ${are} not put in`];
      case 'none':
        return [`there is no bar for ${all}`];
      case 'replaced':
        return names.map(bar => {
          const by = set.exchange.find(e => e.isIn && e.inPlaceOf === bar.pitch);
          return `${bar.name} has given its place to ${toneBarName(by?.pitch ?? bar.pitch)}`;
        });
      case 'there':
        return [];
    }
  });
};

const counted = (k: number, noun: string): string => (k === 1 ? `a ${noun}` : `${String(k)} ${noun}s`);
const upOrDown = (k: number): string => (k < 0 ? 'down' : 'up');

/**
 * What a remedy does, as a step of the history is named.
 * @example
 * remedyWords({ kind: 'octave', statement: 's1', octaves: 1 }, concertSet('xylophone')) // => 'move it up an octave'
 */
export const remedyWords = (remedy: Remedy, set: ToneBarSet): string => {
  switch (remedy.kind) {
    case 'octave': {
      const k = Math.abs(remedy.octaves);
      const move = `move it ${upOrDown(remedy.octaves)} ${k === 1 ? 'an octave' : `${String(k)} octaves`}`;
      return remedy.bars === undefined ? move : `${move}, and ${putWords(remedy.bars, set)}`;
    }
    case 'steps':
      return `move it ${upOrDown(remedy.steps)} ${counted(Math.abs(remedy.steps), 'step')}`;
    case 'piece':
      return `move the whole piece ${upOrDown(remedy.steps)} ${counted(Math.abs(remedy.steps), 'step')}`;
    case 'bars':
      return putWords(remedy, set);
  }
};

const putWords = (put: ToneBarsPut, set: ToneBarSet): string => {
  const out = put.exchange.flatMap(p => set.exchange.find(e => e.pitch === p)?.inPlaceOf ?? []);
  const exchanged =
    put.exchange.length === 0
      ? []
      : [`put in ${inRow(put.exchange.map(toneBarName))} for ${inRow(out.map(toneBarName))}`];
  const back = put.back.length === 0 ? [] : [`put ${inRow(put.back.map(toneBarName))} back on`];
  return [...exchanged, ...back].join(' and ');
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

/**
 *
 * @example
 * warningWords(metre(4, 4), { kind: 'hand', onsets: [fraction(9, 4)] }) // => 'Bar 3, beat 2: faster than one hand can'
 */
export const warningWords = (metre: Metre | MetresInForce, warning: Warning): string => {
  const all = [...new Set(warning.onsets.map(at => barAndBeatWords(metre, at)))];
  const rest = all.length - NAMED;
  const named = all.slice(0, NAMED);
  const places =
    rest > 0
      ? `${named.join('; ')}; and ${counted(rest, 'more place').replace(/^a /, 'one ')}`
      : named.join('; ');
  return `${places.charAt(0).toUpperCase()}${places.slice(1)}: ${WARNING[warning.kind]}`;
};

/**
 * How a set sounds against what is written.
 * @example
 * soundsWords(concertSet('glockenspiel')) // => 'sounds 2 octaves higher than written'
 */
export const soundsWords = (set: ToneBarSet): string => {
  const octaves = set.soundsAbove / 12;
  if (octaves === 0) return 'sounds as written';
  const k = Math.abs(octaves);
  return `sounds ${k === 1 ? 'an octave' : `${String(k)} octaves`} ${octaves > 0 ? 'higher' : 'lower'} than written`;
};

/**
 * How a set sounds against what the app plays for the part; empty where alike.
 * @example
 * heardWords(concertSet('xylophone'), 'xylophone') // => ''
 */
export const heardWords = (set: ToneBarSet, instrument: InstrumentId): string => {
  const octaves = (set.soundsAbove - INSTRUMENTS[instrument].soundsAbove) / 12;
  if (octaves === 0) return '';
  const k = Math.abs(octaves);
  return `sounds ${k === 1 ? 'an octave' : `${String(k)} octaves`} ${octaves > 0 ? 'higher' : 'lower'} than you hear it here`;
};

/**
 * Hands as written under the notes; both at once together.
 * @example
 * handWords(['R', 'B', 'L']) // => 'R LR L'
 */
export const handWords = (hands: readonly Hand[]): string =>
  hands.map(hand => (hand === 'B' ? 'LR' : hand)).join(' ');

/**
 * Bars with their hands, bars in a row that are alike said once.
 * @example
 * stickingLines([{ bar: 1, hands: ['R', 'L'] }, { bar: 2, hands: ['R', 'L'] }]) // => ['Bars 1 to 2: R L']
 */
export const stickingLines = (
  bars: readonly { readonly bar: BarNumber; readonly hands: readonly Hand[] }[],
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
