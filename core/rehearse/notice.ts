import type { MidiPitch, Milliseconds, Seconds, Velocity } from '../foundation/units.ts';
import type { HeardStrike } from '../take/memory.ts';
import { nearestInOrder } from './align.ts';
import type { ExpectedStroke } from './expected.ts';
import { ANSWERS, BOUNCE, GLISS_DRAWN, IN_PLACE, OTHER_BAR, ROLL } from './tolerances.ts';

/** A blow that was really played to a part. */
export interface PlayedStroke {
  /** On the clock of the expected strokes, the device's lateness taken off. */
  readonly at: Seconds;
  /** As written. */
  readonly pitch: MidiPitch;
  readonly velocity: Velocity;
  /** What it was struck on. */
  readonly by?: Pick<HeardStrike, 'name' | 'source'>;
}

/** What was noticed of one stroke. */
export type Noticed =
  | {
      readonly kind: 'in place' | 'early' | 'late' | 'other bar';
      readonly written: ExpectedStroke;
      readonly played: PlayedStroke;
      /** Above zero: after its place. */
      readonly off: Milliseconds;
    }
  /** A stroke that was not played; a glissando that was begun, and not drawn to its end. */
  | { readonly kind: 'left out' | 'cut short'; readonly written: ExpectedStroke }
  | { readonly kind: 'added'; readonly played: PlayedStroke };

/** A stroke that has its place on the page, and what was played for it. */
type Answer = Extract<Noticed, { off: number }>;

const byTime = (a: PlayedStroke, b: PlayedStroke): number =>
  a.at - b.at || a.pitch - b.pitch || a.velocity - b.velocity;

const answer = (written: ExpectedStroke, played: PlayedStroke): Answer => {
  const off = (played.at - written.seconds) * 1000;
  const isLoose = written.isGrace || Math.abs(off) <= IN_PLACE;
  return { kind: isLoose ? 'in place' : off < 0 ? 'early' : 'late', written, played, off };
};

/** Blows on one bar come one after the other; on different bars they may change places, as in a chord. */
const onTheirBars = (
  expected: readonly ExpectedStroke[],
  played: readonly PlayedStroke[],
): readonly Answer[] =>
  [...new Set(expected.map(stroke => stroke.pitch))].flatMap(pitch => {
    const written = expected.filter(stroke => stroke.pitch === pitch);
    const mine = played.filter(stroke => stroke.pitch === pitch);
    const pairs = nearestInOrder(
      written.map(stroke => stroke.seconds),
      mine.map(stroke => stroke.at),
      ANSWERS,
    );
    return pairs.flatMap(([i, j]) => {
      const [one, other] = [written[i], mine[j]];
      return one === undefined || other === undefined ? [] : [answer(one, other)];
    });
  });

/** What was struck on another bar at about the time of a stroke that is left; the nearer bar where two could be. */
const onOtherBars = (left: readonly ExpectedStroke[], over: readonly PlayedStroke[]): readonly Answer[] => {
  const pairs = nearestInOrder(
    left.map(stroke => stroke.seconds),
    over.map(stroke => stroke.at),
    OTHER_BAR.within,
    (i, j) => {
      const [one, other] = [left[i], over[j]];
      if (one === undefined || other === undefined) return 0;
      const apart = Math.abs(one.pitch - other.pitch) / (OTHER_BAR.semitones + 1);
      const near = 1 - Math.abs(one.seconds - other.at) / OTHER_BAR.within;
      return apart >= 1 ? 0 : near * (1 - apart / 2);
    },
  );
  return pairs.flatMap(([i, j]): Answer[] => {
    const [one, other] = [left[i], over[j]];
    return one === undefined || other === undefined
      ? []
      : [{ kind: 'other bar', written: one, played: other, off: (other.at - one.seconds) * 1000 }];
  });
};

/** How many semitones along the way of its glissando a bar lies; undefined beside it, or where none is written. */
const alongLine = ({ line, pitch }: ExpectedStroke, struck: MidiPitch): number | undefined => {
  const last = line?.at(-1);
  if (last === undefined) return undefined;
  const along = last < pitch ? pitch - struck : struck - pitch;
  return along > 0 && along <= Math.abs(last - pitch) ? along : undefined;
};

/** Whether a bar lies on the way of a line from a stroke, in the time it takes. */
const isOnLine = ({ written, played }: Answer, blow: PlayedStroke): boolean =>
  alongLine(written, blow.pitch) !== undefined &&
  blow.at >= played.at &&
  blow.at <= Math.max(written.seconds, played.at) + written.lasts + IN_PLACE / 1000;

/** Glissandi that were begun on another bar of their way than the first one. */
const begunOnTheWay = (left: readonly ExpectedStroke[], over: readonly PlayedStroke[]): readonly Answer[] => {
  const taken = new Set<PlayedStroke>();
  return left.flatMap((written): Answer[] => {
    const played = over.find(
      blow =>
        !taken.has(blow) &&
        Math.abs(blow.at - written.seconds) <= OTHER_BAR.within &&
        (alongLine(written, blow.pitch) ?? Infinity) <= GLISS_DRAWN.begins,
    );
    if (played === undefined) return [];
    const begun: Answer = { kind: 'other bar', written, played, off: (played.at - written.seconds) * 1000 };
    if (isCutShort(begun, over)) return [];
    taken.add(played);
    return [begun];
  });
};

/** Whether so little of a written glissando was struck that it was not drawn. */
const isCutShort = (one: Answer, over: readonly PlayedStroke[]): boolean => {
  const { line, pitch } = one.written;
  const last = line?.at(-1);
  if (line === undefined || last === undefined) return false;
  const struck = new Set(over.flatMap(blow => (isOnLine(one, blow) ? [blow.pitch] : [])));
  const reach = Math.max(0, ...[...struck].map(bar => alongLine(one.written, bar) ?? 0));
  return reach < GLISS_DRAWN.reach * Math.abs(last - pitch) || struck.size < GLISS_DRAWN.bars * line.length;
};

/** Blows over that belong to a stroke that was played: the mallet's bounce, the blows of a roll, the bars of a line. */
const belonging = (answers: readonly Answer[], over: readonly PlayedStroke[]): ReadonlySet<PlayedStroke> => {
  const mine = new Set<PlayedStroke>();
  for (const one of answers) {
    const { written, played } = one;
    for (const blow of over) if (isOnLine(one, blow)) mine.add(blow);
    const end = Math.max(written.seconds + written.lasts, played.at);
    const row: PlayedStroke[] = [played];
    for (const blow of over) {
      const last = row.at(-1)?.at ?? played.at;
      if (blow.pitch !== played.pitch || mine.has(blow) || blow.at < last) continue;
      if (blow.at - last > ROLL.gap || blow.at > end) continue;
      row.push(blow);
    }
    const isRoll = row.length >= ROLL.fewest;
    row.slice(1).forEach(blow => {
      if (isRoll || blow.at - played.at <= BOUNCE) mine.add(blow);
    });
  }
  return mine;
};

const timeOf = (one: Noticed): Seconds => (one.kind === 'added' ? one.played.at : one.written.seconds);

/** The kinds in an order of their own, so that the same playing is always told in the same order. */
const ORDER: readonly Noticed['kind'][] = [
  'in place',
  'early',
  'late',
  'other bar',
  'left out',
  'cut short',
  'added',
];

/**
 * What was played, laid on what is written of one part: every expected stroke once, every glissando that was begun
 * and not drawn, and every blow that answers none. The same in whatever order the blows are given. Two blows of a chord may come in any order; the
 * blows of a roll or of a line are its note; a grace note is never early, late or left out.
 * @param until where the playing ended: what was still to come then was not left out
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const score = scoreOfPlan(idea, firstPlan('xylophone', 60), 'Idea', 'Heron');
 * const wanted = expectedStrokes(score, { part: 'p1', bars: { first: 0, last: 0 }, speed: 1 });
 * noticed(wanted, [{ at: 0.08, pitch: 60, velocity: 90 }]).map(n => n.kind) // => ['late']
 */
export const noticed = (
  expected: readonly ExpectedStroke[],
  given: readonly PlayedStroke[],
  until: Seconds = Infinity,
): readonly Noticed[] => {
  const written = [...expected].sort((a, b) => a.seconds - b.seconds || a.pitch - b.pitch);
  const played = given.filter(stroke => Number.isFinite(stroke.at)).sort(byTime);
  const first = onTheirBars(written, played);
  const begun = begunOnTheWay(
    written.filter(stroke => first.every(one => one.written !== stroke)),
    played.filter(stroke => first.every(one => one.played !== stroke)),
  );
  const own = [...first, ...begun];
  const answered = new Set(own.map(one => one.written));
  const used = new Set(own.map(one => one.played));
  const rest = played.filter(stroke => !used.has(stroke));
  const isOver = ({ seconds, lasts }: ExpectedStroke): boolean => seconds + lasts <= until - ANSWERS;
  const rolled = belonging(own, rest);
  const over = rest.filter(stroke => !rolled.has(stroke));
  const left = written.filter(stroke => !answered.has(stroke) && !stroke.isGrace);
  const others = onOtherBars(left, over);
  for (const one of others) {
    answered.add(one.written);
    used.add(one.played);
  }
  const all: readonly Noticed[] = [
    ...own,
    ...others,
    ...left
      .filter(stroke => !answered.has(stroke) && stroke.seconds <= until - ANSWERS)
      .map(stroke => ({ kind: 'left out' as const, written: stroke })),
    ...own
      .filter(one => isOver(one.written) && isCutShort(one, played))
      .map(({ written }) => ({ kind: 'cut short' as const, written })),
    ...over.filter(stroke => !used.has(stroke)).map(stroke => ({ kind: 'added' as const, played: stroke })),
  ];
  return [...all].sort((a, b) => timeOf(a) - timeOf(b) || ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind));
};
