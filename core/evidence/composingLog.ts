import { toNumber } from '../foundation/fraction.ts';
import { keyName } from '../foundation/key.ts';
import { metreInWords, showMetre, tactus } from '../foundation/metre.ts';
import { type NameStyle, valueName, valueOf } from '../foundation/noteValue.ts';
import { INSTRUMENTS } from '../instruments/instruments.ts';
import type { Edit } from '../piece/edit.ts';
import { motifOf, type Piece } from '../piece/piece.ts';
import { firstHints } from '../piece/rereading.ts';
import { scoreOfPlan } from '../score/fromPlan.ts';
import type { Bracket, Score } from '../score/score.ts';

/** Who did what: the pupil played, the app worked out, somebody mended by hand, somebody chose in Grow. */
export type LogPart = 'played' | 'worked out' | 'mended by hand' | 'chosen';

export interface LogEntry {
  readonly part: LogPart;
  /** A whole sentence. */
  readonly words: string;
}

const count = (n: number, one: string, many = `${one}s`): string => `${String(n)} ${n === 1 ? one : many}`;
const isAre = (n: number): string => (n === 1 ? 'was' : 'were');

const SOURCES = {
  midi: 'on a MIDI device',
  screen: 'on the bars of the screen',
  keys: 'on the computer keyboard',
  microphone: 'on bars in the room, heard through the microphone',
  file: 'from a file',
  mixed: 'on several devices',
} as const;

const playedOn = (piece: Piece, when: (iso: string) => string): LogEntry[] => {
  const { take } = piece;
  const first = take.strikes[0]?.at ?? 0;
  const last = take.strikes.at(-1)?.at ?? first;
  const click = take.click === undefined ? 'without a click' : 'to a click';
  const seconds = count(Math.max(1, Math.round(last - first)), 'second');
  return [
    {
      part: 'played',
      words: `${count(take.strikes.length, 'strike')} in ${seconds} ${SOURCES[take.source]}, as a ${INSTRUMENTS[piece.instrument].name.toLowerCase()}, ${click}, on ${when(take.capturedAt)}. They are kept as they were played.`,
    },
  ];
};

const workedOut = (piece: Piece, style: NameStyle): LogEntry[] => {
  const { reading } = piece;
  const unit = valueName(valueOf(tactus(reading.metre)) ?? { base: 4, dots: 0 }, style);
  const sure = Math.round(reading.confidence * 100);
  return [
    {
      part: 'worked out',
      words: `The rhythm, from the strikes: ${reading.reason}, in ${showMetre(reading.metre)}, at about ${unit} = ${String(Math.round(reading.tempo))}; it held this to be right ${String(sure)} times in 100.`,
    },
    ...(piece.keyChosen
      ? []
      : [{ part: 'worked out' as const, words: `The key, from the notes: ${keyName(piece.key)}.` }]),
    ...(piece.plan === undefined
      ? []
      : [
          {
            part: 'worked out' as const,
            words: 'Each statement, from the idea, by what was chosen for it. No note was made up.',
          },
        ]),
  ];
};

const EDITS: Readonly<Record<Edit['kind'], string>> = {
  move: 'moved',
  length: 'given another length',
  pitch: 'given another pitch',
  respell: 'written under another name',
  delete: 'deleted',
  rest: 'made a rest',
  add: 'added',
  roll: 'written as a roll',
  unroll: 'written out from a roll',
  gliss: 'written as a glissando',
  ungliss: 'written out from a glissando',
  grace: 'given grace notes',
  ungrace: 'written without grace notes',
};

const mended = (piece: Piece): LogEntry[] => {
  const { hints, edits } = piece;
  const asked = [
    ...(hints.metre === undefined ? [] : [`The metre was set to ${showMetre(hints.metre)}.`]),
    ...(hints.tempo === undefined ? [] : [`The tempo was set to ${String(Math.round(hints.tempo))}.`]),
    ...(hints.grid === undefined || hints.grid === 'automatic' ? [] : ['The smallest value was chosen.']),
    ...(hints.taps === undefined ? [] : [`The beat was tapped: ${count(hints.taps.length, 'tap')}.`]),
    ...(hints.firstBeatStrike === undefined ||
    hints.firstBeatStrike === firstHints(piece.take).firstBeatStrike
      ? []
      : ['The first beat was set.']),
    ...(hints.letRing === true ? ['Short notes were left to ring.'] : []),
    ...(piece.keyChosen ? [`The key was chosen: ${keyName(piece.key)}.`] : []),
  ];
  const pins = hints.pins?.length ?? 0;
  const kinds = [...new Set(edits.map(edit => edit.kind))].map(kind => {
    const many = edits.filter(edit => edit.kind === kind).length;
    return `${count(many, 'note')} ${isAre(many)} ${EDITS[kind]}.`;
  });
  const put =
    pins === 0 ? [] : [`${count(pins, 'note')} ${isAre(pins)} put in place, and what follows from it.`];
  return [...asked, ...put, ...kinds].map(words => ({ part: 'mended by hand', words }));
};

/** The bars that a bracket stands over, by their numbers. */
const barsOf = (score: Score, { from, to }: Bracket): string => {
  const bars = score.parts[0]?.bars ?? [];
  const within = bars.filter(
    bar =>
      toNumber(bar.start) + toNumber(bar.length) > toNumber(from) + 1e-9 &&
      toNumber(bar.start) < toNumber(to) - 1e-9,
  );
  const [first, last] = [within[0]?.number ?? 1, within.at(-1)?.number ?? 1];
  return first === last ? `bar ${String(first)}` : `bars ${String(first)} to ${String(last)}`;
};

const chosen = (piece: Piece): LogEntry[] => {
  const { plan } = piece;
  if (plan === undefined) return [];
  const score = scoreOfPlan(motifOf(piece), plan, piece.title, piece.codeName);
  const names = new Map(score.parts.map(part => [part.id, part.name]));
  const detached = plan.statements.filter(s => s.detached !== undefined).length;
  const words = [
    ...score.brackets.map(
      bracket => `${names.get(bracket.part) ?? 'A part'}, ${barsOf(score, bracket)}: ${bracket.text}.`,
    ),
    ...(detached === 0
      ? []
      : [`In ${count(detached, 'statement')} notes were changed by hand, apart from the idea.`]),
    // A plan counts its bars from the first whole one, as they are numbered; a score counts an upbeat.
    ...plan.letters.map(({ bar, letter }) => `Letter ${letter} stands at bar ${String(bar + 1)}.`),
    ...(score.keys ?? []).map(
      change =>
        `From bar ${String(score.parts[0]?.bars[change.bar]?.number ?? 1)} the key is ${keyName(change.key)}.`,
    ),
    ...(score.metres ?? []).map(
      change =>
        `From bar ${String(score.parts[0]?.bars[change.bar]?.number ?? 1)} the metre is ${metreInWords(change.metre)}.`,
    ),
    ...(plan.tempi ?? []).map(
      ({ bar, tempo }) => `From bar ${String(bar + 1)} the tempo is ${String(Math.round(tempo))}.`,
    ),
  ];
  return words.map(line => ({ part: 'chosen', words: line }));
};

/**
 * How a piece came about, told from what is kept of it, so that it cannot disagree with the music: what the pupil
 * played, what the app worked out, what was mended by hand, and what was chosen in Grow, in that order. Who sat at the
 * keyboard it cannot know, and does not say.
 * @param when turns an ISO 8601 time into words
 */
export const composingLog = (
  piece: Piece,
  when: (iso: string) => string,
  style: NameStyle = 'british',
): readonly LogEntry[] => [
  ...playedOn(piece, when),
  ...workedOut(piece, style),
  ...mended(piece),
  ...chosen(piece),
];
