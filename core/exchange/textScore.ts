import { keyName } from '../foundation/key.ts';
import { type Metre, metreInWords, showMetre, tactus } from '../foundation/metre.ts';
import { add, atMost, type Fraction, less } from '../foundation/fraction.ts';
import { type NameStyle, valueName, valueOf } from '../foundation/noteValue.ts';
import { pitchName, type Spelled } from '../foundation/pitch.ts';
import type { Bpm } from '../foundation/units.ts';
import { DYNAMIC_NAME } from '../plan/dynamics.ts';
import { barAndBeat } from '../plan/beats.ts';
import type { Swing } from '../reading/model/reading.ts';
import { type Ending, endingsIn } from '../score/endings.ts';
import { metreAt, metreChange, metricRelation, placeInBar } from '../score/metreAt.ts';
import { isTempoAgain } from '../score/slowing.ts';
import type { Score, ScoreBar, ScoreSymbol } from '../score/score.ts';

const symbolText = (bar: ScoreBar, symbol: ScoreSymbol, style: NameStyle, lines?: 1): string => {
  if (symbol.wholeBar === true) return 'whole-bar rest';
  const tuplet = symbol.tuplet === undefined ? undefined : bar.tuplets[symbol.tuplet];
  const value = valueName(symbol.value, style);
  const named =
    tuplet === undefined
      ? value
      : tuplet.actual === 3
        ? `triplet ${value}`
        : `${value} (${String(tuplet.actual)} in the time of ${String(tuplet.normal)})`;
  if (symbol.pitches.length === 0) return `${named} rest`;
  // On one line a note has no pitch.
  const name = (pitch: Spelled): string => (lines === 1 ? '' : `${pitchName(pitch)} `);
  const all = (pitches: readonly Spelled[]): string => pitches.map(name).join('and ');
  const pitches = all(symbol.pitches.map(p => p.spelled));
  const loud = symbol.dynamic === undefined ? '' : `${DYNAMIC_NAME[symbol.dynamic]}, `;
  const small = [...(symbol.ruff ?? []).map(name), all(symbol.grace ?? [])];
  const grace =
    symbol.grace === undefined
      ? ''
      : `grace ${small.length === 1 ? 'note' : 'notes'} ${lines === 1 ? '' : small.join(', ').replaceAll(' ,', ',')}to `;
  const words = symbol.words === undefined ? '' : `“${symbol.words}”, `;
  const marks = [
    ...(symbol.articulation === undefined ? [] : [symbol.articulation]),
    ...(symbol.hairpin === undefined ? [] : [`${symbol.hairpin} from here`]),
    ...(symbol.hairpinEnds === true ? ['up to here'] : []),
    ...(symbol.pedal === true ? ['pedal down'] : []),
    ...(symbol.pedalEnds === true ? ['pedal up after it'] : []),
    ...(symbol.slur === undefined ? [] : [symbol.slur === 'start' ? 'slur begins' : 'slur ends']),
    ...(symbol.roll === true ? ['rolled'] : []),
    ...(lines === 1
      ? []
      : symbol.pitches.flatMap(p =>
          p.gliss === undefined ? [] : [`glissando to ${pitchName(p.gliss.to)}`],
        )),
    ...(symbol.dead === true ? ['dead stroke'] : []),
    ...(symbol.ring === true ? ['let ring'] : []),
    ...(symbol.fermata === true ? ['held (fermata)'] : []),
    ...(symbol.tiedTo ? ['tied'] : []),
  ];
  return [`${words}${loud}${grace}${pitches}${named}`, ...marks].join(', ');
};

/**
 * One bar in words.
 * @param lines 1 for a rhythm on one line: no pitch is said
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * const score = scoreOfPlan(idea, plan, 'Idea', 'Heron');
 * barText(score.parts[0].bars[0]) // => 'Bar 1: C4 crotchet; crotchet rest; minim rest'
 */
export const barText = (bar: ScoreBar, style: NameStyle = 'british', lines?: 1): string =>
  `${bar.number === 0 ? 'Upbeat' : `Bar ${String(bar.number)}`}: ${bar.symbols.map(s => symbolText(bar, s, style, lines)).join('; ')}`;

/**
 * The swing mark in words.
 * @example
 * swingName({ ratio: 2, unit: fraction(1, 8) }) // => 'swung quavers'
 */
export const swingName = (swing: Swing, style: NameStyle = 'british'): string =>
  `swung ${valueName({ base: swing.unit.d === 16 ? 16 : 8, dots: 0 }, style)}s`;

const beatIs = (beat: Fraction, tempo: Bpm, style: NameStyle): string =>
  `${valueName(valueOf(beat) ?? { base: 4, dots: 0 }, style)} = ${String(Math.round(tempo))}`;

const TIMES: Readonly<Record<number, string>> = { 2: 'twice', 3: 'three times', 4: 'four times' };
/** @example timesInWords(4) // "four times" */
const timesInWords = (times: number): string => TIMES[times] ?? `${String(times)} times`;

const ORDINALS = ['', 'first', 'second', 'third', 'fourth'];
const ordinal = (n: number): string => ORDINALS[n] ?? `time ${String(n)}`;

/** When the bars of an ending are played. */
const endingInWords = ({ first, last, from, to }: Ending): string => {
  const bars = last - first + 1;
  const when = from === to ? `${ordinal(from)} time` : `${ordinal(from)} to ${ordinal(to)} time`;
  return `${when} only${bars === 1 ? '' : `, these ${String(bars)} bars`}`;
};

/** Another metre, and which note value stays as long as it was where that is written. */
const metreNow = (score: Score, bar: ScoreBar, m: Metre, style: NameStyle): readonly string[] => {
  const same = metricRelation(score, bar.index);
  const name = same === undefined ? '' : valueName(same, style);
  return [`metre now ${metreInWords(m)}`, ...(name === '' ? [] : [`${name} = ${name} as before`])];
};

/** What stands over a bar: letter, key, metre, repeat, new tempo. */
const headOf = (score: Score, bar: ScoreBar, style: NameStyle): string => {
  const letters = score.letters.filter(l => l.bar === bar.index).map(l => `Letter ${l.letter}`);
  const keys = (score.keys ?? []).filter(k => k.bar === bar.index).map(k => `key now ${keyName(k.key)}`);
  const metres = [metreChange(score, bar.index)].flatMap(m =>
    m === undefined ? [] : metreNow(score, bar, m, style),
  );
  const repeats = (score.repeats ?? [])
    .filter(r => r.bar === bar.index)
    .map(r => {
      const last = score.parts[0]?.bars[r.bar + r.bars - 1];
      const stretch =
        r.bars === 1 || last === undefined
          ? 'this bar is'
          : `bars ${String(bar.number)} to ${String(last.number)} are`;
      const otherwise = r.endings === undefined ? '' : ', the last time with another ending';
      return `${stretch} played ${timesInWords(r.times)}${otherwise}`;
    });
  const endings = endingsIn(score)
    .filter(e => e.first === bar.index)
    .map(endingInWords);
  const end = add(bar.start, bar.length);
  const metre = metreAt(score, bar.index);
  const from = (at: Fraction): string =>
    `from beat ${String(barAndBeat(metre, placeInBar(metre, bar, at)).beat)}`;
  const tempi = (score.tempi ?? [])
    .filter(t => atMost(bar.start, t.at) && less(t.at, end))
    .map(t => `${beatIs(t.beat ?? tactus(score.metre), t.tempo, style)} ${from(t.at)}`);
  const inBar = (at: Fraction): boolean => atMost(bar.start, at) && less(at, end);
  const slower = (score.slowings ?? []).flatMap(s => [
    ...(inBar(s.from) ? [`slowing down (ritardando) ${from(s.from)}`] : []),
    ...(inBar(s.to) && isTempoAgain(score, s) ? [`in tempo again ${from(s.to)}`] : []),
  ]);
  const all = [...letters, ...keys, ...metres, ...repeats, ...endings, ...tempi, ...slower];
  return all.length === 0 ? '' : `${all.join(', ')}. `;
};

/**
 * The whole score in words, part by part; says what the page shows, for screen readers and for
 * tests. Letters, repeats and new tempi are said in every part, as a player needs them.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * const score = scoreOfPlan(idea, plan, 'Idea', 'Heron');
 * textScore(score)[0] // => 'C major, 4/4, crotchet = 90'
 */
export const textScore = (score: Score, style: NameStyle = 'british'): readonly string[] => [
  [
    // A rhythm without pitches is in no key.
    ...(score.parts.every(part => part.lines === 1) ? [] : [keyName(score.key)]),
    showMetre(score.metre),
    ...(score.swing === undefined ? [] : [swingName(score.swing, style)]),
    beatIs(tactus(score.metre), score.tempo, style),
  ].join(', '),
  ...score.parts.flatMap(part => [
    part.name,
    ...part.bars.map(bar => headOf(score, bar, style) + barText(bar, style, part.lines)),
  ]),
];
