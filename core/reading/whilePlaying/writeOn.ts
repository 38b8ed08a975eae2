import type { Seconds } from '../../foundation/units.ts';
import type { Strike } from '../../take/take.ts';
import { type Lattice } from '../search/lattice.ts';
import { secondsAt, ticksAt } from '../search/timeMap.ts';
import { beatInStrikes } from './beatInStrikes.ts';
import { beatOfClick } from './beatOfClick.ts';
import { BARS_KEPT, LOOK_BACK, SOUGHT_AMONG, SOUGHT_EVERY, SOUGHT_FROM } from './constants.ts';
import { followBeat } from './followBeat.ts';
import type { PhraseHeard, WrittenBeat, WrittenMoment, WrittenSoFar } from './soFar.ts';
import { mapOfBeat, strikesFrom, barsReadAt } from './window.ts';
import { momentsOfRead, readWindow } from './writeWindow.ts';

/**
 * Writes a phrase on while it is played: what was written so far, and the strikes since. Only the last
 * bars are read, so that the time a strike takes does not grow with the phrase. What was shown stays
 * unless it is clearly wrong. A catch reads the whole phrase anew and knows nothing of this.
 * @param before what it gave last for this phrase, or for another; undefined for none
 * @example writeOn(undefined, { since: 0, strikes: [], latency: 0, now: 0 }).moments // => []
 */
export const writeOn = (before: WrittenSoFar | undefined, heard: PhraseHeard): WrittenSoFar => {
  const late = heard.latency / 1000;
  const last = before?.since === heard.since && before.latency === heard.latency ? before : undefined;
  const so = goesOn(last, heard) ?? nothingYet(heard);
  const now = heard.now - late;
  if (so.beat === undefined) return seek(so, heard, now);
  const lastRead = lastStruck(so.moments);
  const unread =
    strikesFrom(heard.strikes, lastRead + late).find(s => s.at - late > lastRead)?.at ?? Infinity;
  const window = barsReadAt(so.beat, so.moments, unread - late, now);
  const strikes = onTime(strikesFrom(heard.strikes, window.after - LOOK_BACK + late), late);
  const shown = so.moments.filter(m => m.tick < so.upTo);
  const read = readWindow(window, so.beat, strikes, shown);
  if (read === undefined) return shownUpTo(so, so.beat, so.moments, now, late);
  // The player has left the beat: another is sought.
  if (so.beat.click === undefined && read.placement.forced === true)
    return seek(nothingYet(heard), heard, now);
  const moments = [...window.held, ...momentsOfRead(read, strikes)];
  const swinging = { ...so.beat, swing: read.placement.swing };
  const beat = so.beat.click === undefined ? followBeat(swinging, window, read) : swinging;
  return shownUpTo(so, beat, moments, now, late);
};

const nothingYet = ({ since, latency }: PhraseHeard): WrittenSoFar => ({
  since,
  latency,
  beat: undefined,
  soughtTo: -Infinity,
  moments: [],
  upTo: -Infinity,
});

/** What was written, on the beat as it is now known; undefined where another beat counts since. */
const goesOn = (last: WrittenSoFar | undefined, heard: PhraseHeard): WrittenSoFar | undefined => {
  const beat = heard.click === undefined ? undefined : beatOfClick(heard.click, heard.since, last?.beat);
  if (last === undefined) return beat === undefined ? undefined : { ...nothingYet(heard), beat };
  if (beat === undefined) return last.beat?.click === undefined ? last : undefined;
  const same = last.beat?.click?.first === beat.click?.first;
  return same ? { ...last, beat } : { ...nothingYet(heard), beat };
};

/** Without a click nothing is written until the beat is sure. */
const seek = (so: WrittenSoFar, heard: PhraseHeard, now: Seconds): WrittenSoFar => {
  const late = heard.latency / 1000;
  const strikes = onTime(strikesFrom(heard.strikes, -Infinity, SOUGHT_AMONG), late);
  const since = strikes.filter(s => s.at > so.soughtTo).length;
  if (strikes.length < SOUGHT_FROM || since < SOUGHT_EVERY) return so;
  const sure = beatInStrikes(strikes, heard.metre);
  const soughtTo = strikes.at(-1)?.at ?? so.soughtTo;
  if (sure === undefined) return { ...so, soughtTo };
  return shownUpTo({ ...so, soughtTo }, sure.beat, sure.moments, now, late);
};

const onTime = (strikes: readonly Strike[], late: Seconds): readonly Strike[] =>
  late === 0 ? strikes : strikes.map(s => ({ ...s, at: s.at - late }));

const lastStruck = (moments: readonly WrittenMoment[]): Seconds =>
  Math.max(-Infinity, ...(moments.at(-1)?.struck.map(s => s.roll?.last ?? s.gliss?.last ?? s.at) ?? []));

/** Beats that are over are shown, with what was struck in them; the last bars are kept. */
const shownUpTo = (
  so: WrittenSoFar,
  beat: WrittenBeat,
  moments: readonly WrittenMoment[],
  now: Seconds,
  late: Seconds,
): WrittenSoFar => {
  const map = mapOfBeat(beat);
  const { lattice } = barsReadAt(beat, moments, Infinity, now);
  const at = ticksAt(map, now);
  const upTo = Math.max(so.upTo, boundaryAt(lattice, at));
  const oldest = Math.floor(at / lattice.bar - BARS_KEPT) * lattice.bar;
  const next = boundaryAfter(lattice, upTo);
  const { again: _, ...rest } = so;
  return {
    ...rest,
    beat,
    moments: moments.filter(m => m.tick >= oldest),
    upTo,
    ...(moments.some(m => m.tick >= upTo) ? { again: secondsAt(map, next) + late } : {}),
  };
};

/** Where the beat under way began, in ticks. */
const boundaryAt = ({ bar, cells }: Lattice, ticks: number): number => {
  // A hair over counts as reached: a moment told by `again` lies on the boundary itself.
  const start = Math.floor((ticks + 1e-6) / bar) * bar;
  const begun = cells.filter(c => start + c.start <= ticks + 1e-6);
  return start + (begun.at(-1)?.start ?? 0);
};
const boundaryAfter = (lattice: Lattice, boundary: number): number => {
  const start = Math.floor(boundary / lattice.bar) * lattice.bar;
  const cell = lattice.cells.find(c => start + c.start >= boundary);
  return cell === undefined ? start + lattice.bar : start + cell.start + cell.length;
};
