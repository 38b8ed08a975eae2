import type { Metre } from '../../../core/foundation/metre.ts';
import { failed, ok, type Problem } from '../../../core/foundation/result.ts';
import type { Lateness } from '../../../core/take/latency.ts';
import {
  addRelease,
  addStrike,
  deviceGone,
  type Memory,
  type Phrase,
  phrases,
} from '../../../core/take/memory.ts';
import type { Command } from '../command.ts';
import type { Chosen, Hearing, LiveState, Measuring } from '../live.ts';
import type { SessionState } from '../session.ts';
import { type DeskState, withLive, withSession } from '../state.ts';
import { pitchingNow } from './pitching.ts';
import { isTheirs } from './turns.ts';

/** A strike is remembered. Whoever plays on means what comes now, not what was chosen before. */
export const strike: Command<[struck: Parameters<typeof addStrike>[1]]> = (desk, struck) =>
  ok(
    withLive(desk, {
      memory: addStrike(
        desk.live.memory,
        // What is struck along to a written part, or to give it pitches, is remembered, but is no new idea.
        desk.live.hearing?.what === 'rehearsal' || pitchingNow(desk) !== undefined
          ? { ...struck, along: true }
          : struck,
      ),
      chosen: undefined,
    }),
  );

/**
 * A phrase of the last minutes was pressed: it is chosen to be caught. One beside or beyond the chosen
 * ones is taken in with all between; one of several chosen is then chosen alone; the only one no longer.
 */
export const choosePhrase: Command<[phrase: Pick<Phrase, 'from' | 'to'>]> = (desk, { from, to }) => {
  const { chosen } = desk.live;
  if (chosen === undefined) return ok(withLive(desk, { chosen: { from, to } }));
  if (chosen.from === from && chosen.to === to) return ok(withLive(desk, { chosen: undefined }));
  const isIn = from >= chosen.from && to <= chosen.to;
  const wider = { from: Math.min(from, chosen.from), to: Math.max(to, chosen.to) };
  return ok(withLive(desk, { chosen: isIn ? { from, to } : wider }));
};

/** No phrase is chosen: the next catch keeps the last ones. */
export const forgetChosen: Command = desk => ok(withLive(desk, { chosen: undefined }));

/** A tone bar or key was let go. */
export const release: Command<[letGo: Parameters<typeof addRelease>[1]]> = (desk, letGo) =>
  ok(withLive(desk, { memory: addRelease(desk.live.memory, letGo) }));

/** A device was unplugged: what it held is let go. */
export const forgetDevice: Command<[device: string]> = (desk, device) =>
  ok(withLive(desk, { memory: deviceGone(desk.live.memory, device) }));

/** What is plugged in, and why there may be nothing. */
export const setDevices: Command<[names: readonly string[], hint: Problem | undefined]> = (
  desk,
  devices,
  midiHint,
) => ok(withLive(desk, { devices, midiHint }));

/** The click goes, or is silent. */
export const setClick: Command<[running: boolean]> = (desk, clickRunning) =>
  ok(withLive(desk, { clickRunning, beat: clickRunning ? desk.live.beat : undefined }));

/**
 * The metre that stands in Play, with a click that does not go or without one: what is played without a click is read
 * in it. Undefined where any metre may be found.
 */
export const metreChosen = ({ play }: Pick<SessionState, 'play'>): Metre | undefined =>
  play.clickOn || play.metreKnown ? play.metre : undefined;

/** A beat of the click, if it still goes. */
export const setBeat: Command<[beat: NonNullable<LiveState['beat']>]> = (desk, beat) =>
  ok(desk.live.clickRunning ? withLive(desk, { beat }) : desk);

/** What is heard; undefined for nothing. */
export const setHeard: Command<[hearing: Hearing | undefined]> = (desk, hearing) =>
  ok(withLive(desk, hearing === undefined ? { hearing, cursor: undefined } : { hearing }));

/** Where the performance is, in semibreves from the first barline. */
export const setCursor: Command<[cursor: number]> = (desk, cursor) => ok(withLive(desk, { cursor }));

/**
 * The phrases of the last five minutes that are not another pupil's, oldest first.
 * @param now seconds on the clock of all input
 */
export const phrasesIn = (
  memory: Memory,
  now: number,
  session: Pick<SessionState, 'play' | 'pupil' | 'turns'>,
): readonly Phrase[] => {
  const theirs = { strikes: memory.strikes.filter(strike => isTheirs(session, strike)) };
  return phrases(theirs, now, { silence: session.play.silence });
};

/** The last phrases that are ideas, up to so many: what was struck along to a written part ends the row. */
const lastIdeas = (all: readonly Phrase[], most: number): readonly Phrase[] => {
  const end = all.map(phrase => phrase.along).lastIndexOf(false) + 1;
  const start = all
    .slice(0, end)
    .map(phrase => phrase.along)
    .lastIndexOf(true);
  return all.slice(Math.max(start + 1, end - most), end);
};

/**
 * The phrases that one catch would keep now: the chosen ones, or the last.
 * @param now seconds on the clock of all input
 */
export const caughtIn = (
  memory: Memory,
  now: number,
  session: Pick<SessionState, 'play' | 'phrasesToCatch' | 'pupil' | 'turns'>,
  chosen?: Chosen,
): readonly Phrase[] => {
  const all = phrasesIn(memory, now, session);
  const wanted = chosen === undefined ? [] : all.filter(p => p.from >= chosen.from && p.to <= chosen.to);
  // What was chosen may have been forgotten since, or joined by a longer silence: then the last ones count.
  return wanted.length > 0 ? wanted : lastIdeas(all, session.phrasesToCatch);
};

/** The same, on the desk as it is. */
export const caught = (desk: DeskState, now: number): readonly Phrase[] =>
  caughtIn(desk.live.memory, now, desk.session, desk.live.chosen);

/** The lateness of the device that most of these strikes came from, in ms. */
export const latenessFor = (desk: DeskState, strikes: readonly { readonly name: string }[]): number => {
  const most = mostOften(strikes.map(s => s.name));
  return most === undefined ? 0 : (desk.session.lateness[most] ?? 0);
};

/** The value that comes most often; the first of several. */
export const mostOften = (values: readonly string[]): string | undefined => {
  const count = new Map<string, number>();
  for (const value of values) count.set(value, (count.get(value) ?? 0) + 1);
  return [...count].sort((a, b) => b[1] - a[1])[0]?.[0];
};

/** A device is being lined up with the click, or no longer. */
export const setMeasuring: Command<[measuring: Measuring | undefined]> = (desk, measuring) =>
  ok(withLive(desk, { measuring }));

/** One more strike while lining up. */
export const countStrike: Command = desk => {
  const { measuring } = desk.live;
  return ok(
    measuring === undefined
      ? desk
      : withLive(desk, { measuring: { ...measuring, strikes: measuring.strikes + 1 } }),
  );
};

/** How late a device was found to come; it is taken off from now on. */
export const setLateness: Command<[device: string, found: Lateness]> = (desk, device, found) =>
  ok(
    withSession(withLive(desk, { measured: { device, found } }), {
      lateness: { ...desk.session.lateness, [device]: found.late },
    }),
  );

/** A device is taken to be on time again. */
export const forgetLateness: Command<[device: string]> = (desk, device) => {
  const { [device]: _, ...lateness } = desk.session.lateness;
  return ok(withSession(withLive(desk, { measured: undefined }), { lateness }));
};

/** The taps so far; undefined when nobody is tapping. */
export const setTaps: Command<[taps: readonly number[] | undefined]> = (desk, taps) =>
  ok(withLive(desk, { taps }));

/** Fewer taps than these show no beat. */
export const FEWEST_TAPS = 4;

/** Whether taps are enough to be a beat. Problems: 'out-of-range'. */
export const enoughTaps: Command<[taps: readonly number[]]> = (desk, taps) =>
  taps.length >= FEWEST_TAPS
    ? ok(desk)
    : failed({
        kind: 'out-of-range',
        what: `That was ${taps.length === 1 ? 'one tap' : `${String(taps.length)} taps`}; the beat shows from ${String(FEWEST_TAPS)} on.`,
        kept: 'The page is as it was.',
        next: 'Press “tap the beat” and tap along on every beat, to the end.',
      });
