import type { CleanTake } from '../../take/clean.ts';
import { costOfAny } from '../model/nats.ts';
import { barringsOf } from '../knownBeat/barlines.ts';
import type { Lag } from '../repeats/lag.ts';
import type { Candidate } from '../onBeat/onBeat.ts';

import { closureCost, periodOf, wholeIdeaCost } from './period.ts';
import type { Hints } from '../model/reading.ts';
import { repetitionCost } from '../rhythm/repetitionPrior.ts';
import { FREE_BEAT } from './constants.ts';

/** Ticks after which the idea comes again, or 0. */
const periodTicks = (c: Candidate, lag: Lag | undefined): number =>
  lag === undefined ? (c.period ?? 0) * c.beat.lattice.bar : periodOf(c.found.ticks, lag);

/** Nats for what a whole reading shows of its rhythm: barlines, and saying the same few things again. */
export const phraseCost = (c: Candidate, clean: CleanTake, hints: Hints, lag: Lag | undefined): number => {
  const cell = c.beat.lattice.cells[0];
  if (cell === undefined) return 0;
  const barrings = barringsOf(cell.parts, {
    ticks: c.found.ticks,
    velocity: clean.events.map(e => e.velocity),
    period: periodTicks(c, lag),
    ...(hints.metre === undefined ? {} : { only: hints.metre }),
  });
  return (
    FREE_BEAT.bars * costOfAny(barrings.map(b => b.cost)) +
    repetitionCost(c.found.ticks, cell.length, cell.parts)
  );
};

/** Nats for how many beats the idea lasts, and for what does not come again where it should. */
export const ideaCost = (c: Candidate, lag: Lag | undefined): number => {
  const cell = c.beat.lattice.cells[0];
  const period = periodTicks(c, lag);
  if (cell === undefined) return 0;
  return (
    closureCost(c.found.ticks, cell.length, cell.parts, lag) +
    (period === 0 ? 0 : wholeIdeaCost(period / cell.length, cell.parts))
  );
};
