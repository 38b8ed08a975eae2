import { secondsAtOnset } from '../../core/playback/seconds.ts';
import { checkPlayable } from '../../core/playable/check.ts';
import { changeSet, chooseSet, newMusicRoom, type MusicRoom } from '../../core/playable/musicRoom.ts';
import { withToneBar } from '../../core/playable/toneBarSet.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { IDEA } from '../exchange/pieces.ts';
import { median, ms, printTable, timesOf } from './figures.ts';
import { planOf, SIZES } from './pieces.ts';

const RUNS = 31;

/** Prints what checking a piece takes, on concert sets and on a classroom where nothing fits at once. */
export const playable = (): void => {
  const rows: string[][] = [];
  for (const size of SIZES) {
    const plan = planOf(size);
    const score = scoreOfPlan(IDEA, plan, 'Idea', 'Wren');
    const concert = newMusicRoom('r1', 'Music room');
    const lifted = changeSet(concert, 'alto-xylophone', set => withToneBar(set, 72, 'missing'));
    const classroom = plan.parts.reduce<MusicRoom>(
      (so, p) => chooseSet(so, plan, p, 'alto-xylophone'),
      lifted,
    );
    const check = (room: MusicRoom): ReturnType<typeof checkPlayable> =>
      checkPlayable(IDEA, plan, room, at => secondsAtOnset(score, at));
    const strokes = check(concert).parts.reduce((so, p) => so + p.strokes.length, 0);
    if (strokes === 0) throw new Error('nothing was struck');
    rows.push([
      ...[size.parts, size.bars, strokes, check(classroom).count].map(String),
      ms(median(timesOf(RUNS, () => check(concert)))),
      ms(median(timesOf(RUNS, () => check(classroom)))),
    ]);
  }
  printTable(['parts', 'bars', 'strokes', 'found', 'concert', 'classroom'], rows);
  console.log(`  Milliseconds, median of ${String(RUNS)} runs after one uncounted: checkPlayable in Node, bars to set out, remedies,
  sticking and warnings together. found: problems and warnings in the classroom, which lacks C5.`);
};
