import { expectTypeOf, test } from 'vitest';
import { barStart } from '../../core/foundation/barring.ts';
import { metre } from '../../core/foundation/metre.ts';
import type {
  BarIndex,
  BarNumber,
  Milliseconds,
  Nats,
  Seconds,
  Semibreves,
  Ticks,
} from '../../core/foundation/units.ts';
import { tempoFrom } from '../../core/plan/tempi.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { positionAtSeconds, secondsAtPosition } from '../../core/piece/strikePositions.ts';

// Checked by the compiler (npm run check:types): each line marked would have to compile to be an error.
test('units that could be taken for one another do not mix', () => {
  const index: BarIndex = 3;
  const number: BarNumber = index + 1;
  const seconds: Seconds = 2;
  const cost: Nats = 0.7;
  const ticks: Ticks = 48;
  expectTypeOf(barStart(metre(4, 4), index)).not.toBeAny();
  // @ts-expect-error a bar counted from 1 is no index
  barStart(metre(4, 4), number);
  // @ts-expect-error an index is no bar counted from 1
  tempoFrom({ metre: metre(4, 4) }, firstPlan('marimba', 90), index, 100);
  // @ts-expect-error seconds are no milliseconds
  const soon: Milliseconds = seconds;
  // @ts-expect-error a cost is no time
  const late: Seconds = cost;
  // @ts-expect-error ticks are no semibreves
  const long: Semibreves = ticks;
  const beats = { metre: metre(4, 4), beats: [0, 1], firstBeat: 0 };
  // @ts-expect-error seconds are no position
  secondsAtPosition(beats, seconds);
  // @ts-expect-error a position is no moment
  positionAtSeconds(beats, positionAtSeconds(beats, seconds));
  expectTypeOf([soon, late, long]).not.toBeAny();
});
