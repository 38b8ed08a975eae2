import type { CleanTake } from '../take/clean.ts';
import { barringsOf } from './barlines.ts';
import type { Lag } from './lag.ts';
import type { Candidate } from './onBeat.ts';
import { PARAMETERS } from './parameters.ts';
import { closureCost, periodOf, wholeIdeaCost } from './period.ts';
import type { Hints } from './reading.ts';
import { samenessCost } from './sameness.ts';

/** Nats for what only a whole reading shows: barlines, sameness, and how many beats the idea lasts. */
export const phraseCost = (c: Candidate, clean: CleanTake, hints: Hints, lag: Lag | undefined): number => {
  const p = PARAMETERS.free;
  const { lattice } = c.beat;
  const cell = lattice.cells[0];
  if (cell === undefined) return 0;
  const period = lag === undefined ? (c.period ?? 0) * lattice.bar : periodOf(c.found.ticks, lag);
  const barrings = barringsOf(cell.parts, {
    ticks: c.found.ticks,
    velocity: clean.events.map(e => e.velocity),
    period,
    ...(hints.metre === undefined ? {} : { only: hints.metre }),
  });
  const mass = barrings.reduce((sum, b) => sum + Math.exp(-b.cost), 0);
  return (
    -p.bars * Math.log(mass) +
    samenessCost(c.found.ticks, cell.length, cell.parts) +
    closureCost(c.found.ticks, cell.length, cell.parts, lag) +
    (period === 0 ? 0 : wholeIdeaCost(period / cell.length, cell.parts))
  );
};
