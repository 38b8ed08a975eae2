import { ok } from '../../../core/foundation/result.ts';
import { type MalletId, unusualMallet } from '../../../core/instruments/mallets.ts';
import type { Command } from '../command.ts';
import { type LiveState, NOTHING_TRIED } from '../live.ts';
import type { HearSettings, PlanNote, PlaySettings, SessionState, View } from '../session.ts';
import { withLive, withSession } from '../state.ts';

/** Settings that concern nothing but themselves. */
export type Settings = Pick<
  SessionState,
  | 'nameStyle'
  | 'pupilLanguage'
  | 'phrasesToCatch'
  | 'screenPage'
  | 'paper'
  | 'repeatBars'
  | 'volume'
  | 'motor'
>;
export const set: Command<[change: Partial<Settings>]> = (desk, change) => ok(withSession(desk, change));

/** Changes how Play is set up. */
export const setPlay: Command<[change: Partial<PlaySettings>]> = (desk, change) =>
  ok(withSession(desk, { play: { ...desk.session.play, ...change } }));

/** What the instrument of Play is struck with; the usual mallets where its bars do not bear these. */
export const setMallet: Command<[mallet: MalletId]> = (desk, asked) => {
  const { instrument, mallets } = desk.session.play;
  const { [instrument]: _, ...others } = mallets;
  const mallet = unusualMallet(instrument, asked);
  return setPlay(desk, { mallets: mallet === undefined ? others : { ...others, [instrument]: mallet } });
};

/** Single keys do something, those of the tone bars included, or nothing at all. */
export const setKeys: Command<[on: boolean]> = (desk, on) =>
  ok(withSession(desk, { keyShortcuts: on, play: { ...desk.session.play, keysPlay: on } }));

/** Lifts the tone bars of a pitch class off, or puts them back. @param pitchClass 0 (C) to 11 (B) */
export const toggleLifted: Command<[pitchClass: number]> = (desk, pitchClass) => {
  const { lifted } = desk.session.play;
  const next = lifted.includes(pitchClass)
    ? lifted.filter(p => p !== pitchClass)
    : [...lifted, pitchClass].sort((a, b) => a - b);
  return setPlay(desk, { lifted: next });
};

/** Changes how Write compares by ear. */
export const setHearing: Command<[change: Partial<HearSettings>]> = (desk, change) =>
  ok(withSession(desk, { hear: { ...desk.session.hear, ...change } }));

/** Goes to another of the four places. A problem stays where it came up. */
export const goTo: Command<[view: View]> = (desk, view) =>
  ok(view === desk.session.view ? desk : withSession(withLive(desk, { problem: undefined }), { view }));

/** Shows only what a pupil needs, or everything; what is being tried is left, and nothing stays chosen. */
export const showPupilView: Command<[on: boolean]> = (desk, on) =>
  ok(
    withSession(withLive(desk, { window: undefined, ...NOTHING_TRIED }), {
      isPupilView: on,
      isRehearsing: false,
      selectedNotes: [],
      selectedStatement: undefined,
      selectedPlanNote: undefined,
    }),
  );

/** Shows the first steps, or no more. */
export const lead: Command<[on: boolean]> = (desk, isLed) => ok(withLive(desk, { isLed }));

/** Opens a window over the view, or closes it. */
export const showWindow: Command<[window: LiveState['window']]> = (desk, window) =>
  ok(withLive(desk, { window }));

/** Looks at the versions of one piece of the register. */
export const lookAt: Command<[id: string]> = (desk, id) =>
  ok(withLive(desk, { window: 'versions', looking: id }));

/** Chooses notes of Write, by strike; `more` adds them to those chosen. */
export const selectNotes: Command<[strikes: readonly number[], more?: boolean]> = (
  desk,
  strikes,
  more = false,
) =>
  ok(
    withSession(desk, {
      selectedNotes: more ? [...new Set([...desk.session.selectedNotes, ...strikes])] : strikes,
    }),
  );

/** Chooses a statement of Grow, and one note of it where given. */
export const selectStatement: Command<[statement: string | undefined, note?: PlanNote]> = (
  desk,
  statement,
  note,
) => {
  // What was refused was asked of the one before.
  const isOther = statement !== desk.session.selectedStatement;
  const left = isOther ? withLive(desk, { refused: undefined }) : desk;
  return ok(withSession(left, { selectedStatement: statement, selectedPlanNote: note }));
};

const toggled = (ids: readonly string[], id: string): readonly string[] =>
  ids.includes(id) ? ids.filter(other => other !== id) : [...ids, id];

/** A part falls silent while listening, is heard alone, or shows its sticking; or no longer. */
export const togglePart: Command<[what: 'mutedParts' | 'aloneParts' | 'stickingShown', part: string]> = (
  desk,
  what,
  part,
) => ok(withSession(desk, { [what]: toggled(desk.session[what], part) }));

/** Parts not heard now: everything but the ones alone, or the silent ones. */
export const silentParts = (
  session: Pick<SessionState, 'mutedParts' | 'aloneParts'>,
  ids: readonly string[],
): ReadonlySet<string> => {
  const { mutedParts, aloneParts } = session;
  return new Set(
    ids.some(id => aloneParts.includes(id))
      ? ids.filter(id => !aloneParts.includes(id))
      : ids.filter(id => mutedParts.includes(id)),
  );
};
