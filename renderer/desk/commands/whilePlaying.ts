import { key } from '../../../core/foundation/key.ts';
import { ok } from '../../../core/foundation/result.ts';
import type { Seconds } from '../../../core/foundation/units.ts';
import { pageSoFar } from '../../../core/reading/whilePlaying/pageSoFar.ts';
import type { PhraseHeard, WrittenSoFar } from '../../../core/reading/whilePlaying/soFar.ts';
import { readsFrom, strikesFrom } from '../../../core/reading/whilePlaying/window.ts';
import { scoreOfReading } from '../../../core/score/fromReading.ts';
import type { Score } from '../../../core/score/score.ts';
import type { Phrase } from '../../../core/take/memory.ts';
import type { Click } from '../../../core/take/take.ts';
import type { Command } from '../command.ts';
import { keyEvidence } from '../keyEvidence.ts';
import { type DeskState, withLive } from '../state.ts';
import { latenessFor, phrasesIn } from './playing.ts';

/** The last phrase of whoever plays now, where it is an idea of its own. */
const lastIdea = (desk: DeskState, now: Seconds): Phrase | undefined => {
  const last = phrasesIn(desk.live.memory, now, desk.session).at(-1);
  return last?.along === true ? undefined : last;
};

const isWanted = ({ session }: DeskState): boolean =>
  session.play.writesAlong && session.view === 'play' && !session.isPupilView;

/** What is asked of the reader to write a phrase on. */
export interface WritingOn {
  readonly before: WrittenSoFar | undefined;
  readonly heard: PhraseHeard;
}

/**
 * What there is to write on just now: the phrase under way, its last strikes only.
 * @param now seconds on the clock of all input
 * @param click the click that goes, with the beats heard so far
 * @returns undefined where nothing is to be written
 */
export const toWriteOn = (desk: DeskState, now: Seconds, click: Click | undefined): WritingOn | undefined => {
  const phrase = isWanted(desk) ? lastIdea(desk, now) : undefined;
  if (phrase === undefined) return undefined;
  const { soFar } = desk.live;
  const latency = latenessFor(desk, phrase.strikes);
  const before = soFar?.since === phrase.from && soFar.latency === latency ? soFar : undefined;
  const strikes = strikesFrom(phrase.strikes, readsFrom(before)).map(({ at, pitch, velocity }) => ({
    at,
    pitch,
    velocity,
  }));
  return {
    before,
    heard: { since: phrase.from, strikes, latency, now, ...(click === undefined ? {} : { click }) },
  };
};

/** What was written of the phrase under way; its moment may have passed. */
export const setSoFar: Command<[soFar: WrittenSoFar]> = (desk, soFar) => ok(withLive(desk, { soFar }));

/** The last phrase as far as it is written, to be shown in Play; undefined where there is nothing to show. */
export const shownSoFar = (desk: DeskState): Score | undefined => {
  const { soFar, memory } = desk.live;
  if (soFar === undefined || !isWanted(desk)) return undefined;
  const last = memory.strikes.at(-1);
  if (last === undefined || lastIdea(desk, last.at)?.from !== soFar.since) return undefined;
  const reading = pageSoFar(soFar);
  if (reading === undefined) return undefined;
  const { instrument } = desk.session.play;
  const { classKey } = keyEvidence(desk, desk.session.pupil?.className ?? '', instrument);
  return scoreOfReading(reading, classKey ?? key('C'), instrument, '', '');
};
