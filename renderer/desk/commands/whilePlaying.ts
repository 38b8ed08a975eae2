import type { Key } from '../../../core/foundation/key.ts';
import type { InstrumentId } from '../../../core/instruments/instruments.ts';
import { ok } from '../../../core/foundation/result.ts';
import type { Seconds } from '../../../core/foundation/units.ts';
import { pageSoFar } from '../../../core/reading/whilePlaying/pageSoFar.ts';
import type { PhraseHeard, WrittenSoFar } from '../../../core/reading/whilePlaying/soFar.ts';
import { readsFrom, strikesFrom } from '../../../core/reading/whilePlaying/window.ts';
import { scoreOfReading } from '../../../core/score/fromReading.ts';
import type { Score } from '../../../core/score/score.ts';
import type { Memory, Phrase } from '../../../core/take/memory.ts';
import type { Click } from '../../../core/take/take.ts';
import type { Command } from '../command.ts';
import type { SessionState } from '../session.ts';
import { type DeskState, withLive } from '../state.ts';
import { latenessFor, metreChosen, phrasesIn } from './playing.ts';

/** The last phrase of whoever plays now, where it is an idea of its own. */
const lastIdea = (memory: Memory, now: Seconds, session: SessionState): Phrase | undefined => {
  const last = phrasesIn(memory, now, session).at(-1);
  return last?.along === true ? undefined : last;
};

const isWanted = (session: SessionState): boolean =>
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
  const phrase = isWanted(desk.session) ? lastIdea(desk.live.memory, now, desk.session) : undefined;
  if (phrase === undefined) return undefined;
  const { soFar } = desk.live;
  const latency = latenessFor(desk, phrase.strikes);
  const metre = metreChosen(desk.session);
  const before = soFar?.since === phrase.from && soFar.latency === latency ? soFar : undefined;
  const strikes = strikesFrom(phrase.strikes, readsFrom(before)).map(({ at, pitch, velocity }) => ({
    at,
    pitch,
    velocity,
  }));
  return {
    before,
    heard: {
      since: phrase.from,
      strikes,
      latency,
      now,
      ...(click === undefined ? {} : { click }),
      ...(metre === undefined ? {} : { metre }),
    },
  };
};

/** What was written of the phrase under way; its moment may have passed. */
export const setSoFar: Command<[soFar: WrittenSoFar]> = (desk, soFar) => ok(withLive(desk, { soFar }));

/** What is written of the last phrase, where Play shows it; undefined where it is of another phrase, or unwanted. */
export const shownSoFar = (
  soFar: WrittenSoFar | undefined,
  memory: Memory,
  session: SessionState,
): WrittenSoFar | undefined => {
  const last = memory.strikes.at(-1);
  if (soFar === undefined || last === undefined || !isWanted(session)) return undefined;
  return lastIdea(memory, last.at, session)?.from === soFar.since ? soFar : undefined;
};

/** Whether any of it can be shown yet: `scoreSoFar` gives a score then. */
export const canShowSoFar = ({ beat, moments, upTo }: WrittenSoFar): boolean =>
  beat !== undefined && moments.some(m => m.tick < upTo);

/** The same as a score: what can be shown of it so far. */
export const scoreSoFar = (soFar: WrittenSoFar, k: Key, instrument: InstrumentId): Score | undefined => {
  const reading = pageSoFar(soFar);
  return reading === undefined ? undefined : scoreOfReading(reading, k, instrument, '', '');
};
