import { toNumber } from '../../foundation/fraction.ts';
import { type DrawnLine, leadingTo, wholeLine } from '../../take/glissandi.ts';
import type { QuickStrokes } from '../../take/quickStrokes.ts';
import type { Take } from '../../take/take.ts';
import type { ReadGlissando, SeenPage } from '../model/reading.ts';
import { secondsAt, ticksAt, type TimeMap } from '../search/timeMap.ts';
import { DRAWN_TO } from './constants.ts';
import { keepsTime, rollsOnPage } from './rolls.ts';

/**
 * What stays rolled or drawn once the beat is known: all that keeps no time on it. A line that ends on a beat leads
 * to a note there.
 * @param map the beat, lateness taken off
 */
export const onBeatOf = ({ rolls, lines }: QuickStrokes, take: Take, map: TimeMap): QuickStrokes => ({
  rolls: rolls.filter(run => !keepsTime(run, take, map)),
  lines: lines
    .filter(line => !keepsTime(wholeLine(line), take, map, 'bars'))
    .map(line => (line.target === undefined && endsOnBeat(line, take, map) ? leadingTo(line.strokes) : line)),
});

/** Whether the last bar of a line is struck on a beat, and not just because the line is as long as one. */
const endsOnBeat = (line: DrawnLine, take: Take, map: TimeMap): boolean => {
  const at = (take.strikes[line.strokes.at(-1) ?? -1]?.at ?? NaN) - take.latency / 1000;
  const beat = Math.round(ticksAt(map, at) / map.step) * map.step;
  return Math.abs(secondsAt(map, beat) - at) <= DRAWN_TO;
};

/** A line as a note has it. */
export const glissandoOf = (
  line: DrawnLine | undefined,
  strikes: Take['strikes'],
): ReadGlissando | undefined => {
  if (line === undefined) return undefined;
  const pitch = (strike: number | undefined): number => strikes[strike ?? -1]?.pitch ?? 60;
  return {
    strokes: line.strokes.map(strike => ({ strike, pitch: pitch(strike) })),
    to: pitch(line.target ?? line.strokes.at(-1)),
  };
};

/** Of what may be rolled or drawn that which a page shows as such: all strokes but the first have no place on it. */
export const onPageOf = ({ rolls, lines }: QuickStrokes, page: SeenPage): QuickStrokes => {
  const stands = new Map(page.positions.map(p => [p.strike, toNumber(p.onset)]));
  return {
    rolls: rollsOnPage(rolls, page),
    lines: lines.flatMap(line => {
      const all = wholeLine(line);
      const [first, last] = [stands.get(all[0] ?? -1), stands.get(all.at(-1) ?? -1)];
      const shown = last === undefined || last === first ? { strokes: all } : leadingTo(all);
      return rollsOnPage([shown.strokes], page).length > 0 ? [shown] : [];
    }),
  };
};
