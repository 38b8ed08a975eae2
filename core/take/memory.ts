import type { MidiPitch, Seconds, Velocity } from '../foundation/units.ts';
import type { Strike } from './take.ts';

/** How far back the memory reaches. */
export const MEMORY_SPAN: Seconds = 300;
/** A silence this long ends a phrase, unless told otherwise. */
export const PHRASE_SILENCE: Seconds = 2;

export type HeardSource = 'midi' | 'screen' | 'keys' | 'microphone';

/** A strike with where it came from. */
export interface HeardStrike extends Strike {
  readonly device: string;
  /** The device as a person knows it. */
  readonly name: string;
  readonly source: HeardSource;
  /** Still held: a note-off may yet come. */
  readonly held: boolean;
  /** Struck along to a written part: remembered like any other, but no idea of its own. */
  readonly along?: true;
}

/**
 * What was played in the last five minutes, always: nothing needs arming. A value; adding gives a
 * new one and leaves the old.
 */
export interface Memory {
  /** In order of time. */
  readonly strikes: readonly HeardStrike[];
}

export const EMPTY_MEMORY: Memory = { strikes: [] };

/**
 * Drops what is more than five minutes older than `now`.
 * @example
 * forget({ strikes: [{ at: 0, pitch: 60, velocity: 90, device: 'd', name: 'Pads', source: 'midi', held: false }] }, 301).strikes // => []
 */
export const forget = (memory: Memory, now: Seconds): Memory => {
  const kept = memory.strikes.filter(strike => strike.at >= now - MEMORY_SPAN);
  return kept.length === memory.strikes.length ? memory : { strikes: kept };
};

/**
 * Adds a strike in its place in time; devices may report a little out of order.
 * @example
 * const later = addStrike(EMPTY_MEMORY, { at: 2, pitch: 60, velocity: 90, device: 'd', name: 'Pads', source: 'midi' });
 * addStrike(later, { at: 1, pitch: 60, velocity: 90, device: 'd', name: 'Pads', source: 'midi' }).strikes.map(s => s.at) // => [1, 2]
 * addStrike(later, { at: NaN, pitch: 60, velocity: 90, device: 'd', name: 'Pads', source: 'midi' }) // => later
 */
export const addStrike = (
  memory: Memory,
  strike: {
    readonly at: Seconds;
    readonly pitch: MidiPitch;
    readonly velocity: Velocity;
    readonly nextBest?: MidiPitch;
    readonly perhapsNone?: true;
    readonly device: string;
    readonly name: string;
    readonly source: HeardSource;
    readonly along?: true;
  },
): Memory => {
  if (!Number.isFinite(strike.at)) return memory;
  const place = memory.strikes.filter(before => before.at <= strike.at).length;
  const strikes = [
    ...memory.strikes.slice(0, place),
    { ...strike, held: true },
    ...memory.strikes.slice(place),
  ];
  return forget({ strikes }, strikes.at(-1)?.at ?? strike.at);
};

/**
 * Notes that a bar or key was let go; without a strike that it could belong to, nothing changes.
 * @example
 * const struck = addStrike(EMPTY_MEMORY, { at: 2, pitch: 60, velocity: 90, device: 'd', name: 'Pads', source: 'midi' });
 * addRelease(struck, { at: 2.5, pitch: 60, device: 'd' }).strikes[0].until // => 2.5
 * addRelease(struck, { at: 2.5, pitch: 61, device: 'd' }) // => struck
 */
export const addRelease = (
  memory: Memory,
  release: { readonly at: Seconds; readonly pitch: MidiPitch; readonly device: string },
): Memory => {
  const answers = (strike: HeardStrike): boolean =>
    strike.held && strike.pitch === release.pitch && strike.device === release.device;
  let index = memory.strikes.length - 1;
  for (; index >= 0; index -= 1) {
    const strike = memory.strikes[index];
    if (strike !== undefined && answers(strike) && strike.at <= release.at) break;
  }
  if (index < 0) return memory;
  return {
    strikes: memory.strikes.map((strike, i) => {
      if (i === index) return { ...strike, until: release.at, held: false };
      // An earlier strike of the same bar whose note-off never came is over, too.
      return i < index && answers(strike) ? { ...strike, held: false } : strike;
    }),
  };
};

/**
 * A device was unplugged: all it played stays; a note-off from its next life belongs to none of it.
 * @example
 * const struck = addStrike(EMPTY_MEMORY, { at: 2, pitch: 60, velocity: 90, device: 'd', name: 'Pads', source: 'midi' });
 * deviceGone(struck, 'd').strikes.map(s => s.held) // => [false]
 */
export const deviceGone = (memory: Memory, device: string): Memory => ({
  strikes: memory.strikes.map(strike =>
    strike.held && strike.device === device ? { ...strike, held: false } : strike,
  ),
});

/** Strikes from `from` to `to`, both included. */
export const strikesBetween = (memory: Memory, from: Seconds, to: Seconds): readonly HeardStrike[] =>
  memory.strikes.filter(strike => strike.at >= from && strike.at <= to);

/** A run of strikes with no long silence in it. */
export interface Phrase {
  /** Its first strike. */
  readonly from: Seconds;
  /** Its last strike. */
  readonly to: Seconds;
  readonly strikes: readonly HeardStrike[];
  /** Whether the silence that ends it has passed; otherwise it may go on. */
  readonly finished: boolean;
  /** Whether it was struck along to a written part; such a phrase is caught only when it is chosen. */
  readonly along: boolean;
}

export interface PhraseOptions {
  /** The shortest silence that parts two phrases; above 0. */
  readonly silence?: Seconds;
}

const endOf = (strike: Strike): Seconds => Math.max(strike.at, strike.until ?? strike.at);

/**
 * The phrases of the last five minutes, oldest first. A note being held is no silence.
 * @example
 * const played = [0, 1, 5].reduce((so, at) => addStrike(so, { at, pitch: 60, velocity: 90, device: 'd', name: 'Pads', source: 'midi' }), EMPTY_MEMORY);
 * phrases(played, 6).map(p => [p.from, p.to, p.finished]) // => [[0, 1, true], [5, 5, false]]
 */
export const phrases = (memory: Memory, now: Seconds, options: PhraseOptions = {}): readonly Phrase[] => {
  const silence = options.silence ?? PHRASE_SILENCE;
  const groups: HeardStrike[][] = [];
  let ends = -Infinity;
  for (const strike of forget(memory, now).strikes) {
    const last = groups.at(-1);
    const isOther = last?.[0]?.along !== strike.along;
    if (last === undefined || isOther || strike.at - ends >= silence) groups.push([strike]);
    else last.push(strike);
    ends = Math.max(ends, endOf(strike));
  }
  return groups.map((strikes, i) => ({
    from: strikes[0]?.at ?? 0,
    to: strikes.at(-1)?.at ?? 0,
    strikes,
    finished: i < groups.length - 1 || now - Math.max(...strikes.map(endOf)) >= silence,
    along: strikes[0]?.along === true,
  }));
};

/** The phrase played last, or undefined when nothing was played. */
export const lastPhrase = (memory: Memory, now: Seconds, options: PhraseOptions = {}): Phrase | undefined =>
  phrases(memory, now, options).at(-1);
