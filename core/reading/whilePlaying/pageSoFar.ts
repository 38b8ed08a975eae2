import { ZERO } from '../../foundation/fraction.ts';
import { gracesOf, type ReadGlissando, type Reading } from '../model/reading.ts';
import { TICKS, latticeOf, toFraction } from '../search/lattice.ts';
import { steadyBeat } from '../search/steadyBeat.ts';
import { lengthsOf } from '../writing/lengths.ts';
import { ticksAt } from '../search/timeMap.ts';
import type { WrittenMoment, WrittenSoFar, WrittenStrike } from './soFar.ts';
import { mapOfBeat } from './window.ts';

/** Only the note itself has a number; the other bars of its line have none. */
const glissShown = (gliss: NonNullable<WrittenStrike['gliss']>, number: number): ReadGlissando => ({
  strokes: gliss.over.map((pitch, i) => ({ strike: i === 0 ? number : -1, pitch })),
  to: gliss.to,
});

/**
 * Whether what is shown begins in the last half of the phrase's first bar and leads to a struck barline: an upbeat, as
 * it is caught (`strikeAfterUpbeat`). Until the barline is struck nobody knows, and rests are shown.
 */
const leadsOn = ([first, ...others]: readonly WrittenMoment[], bar: number): boolean =>
  first !== undefined && first.tick >= bar / 2 && others.some(m => m.tick === bar);

/**
 * What is shown of a phrase while it is played, as a reading: the last bars up to the beat under way,
 * counted from the first of them. Strikes are numbered as they are written.
 * @returns undefined while there is nothing to show
 */
export const pageSoFar = ({ beat, moments, upTo }: WrittenSoFar): Reading | undefined => {
  const shown = moments.filter(m => m.tick < upTo);
  const [first] = shown;
  if (beat === undefined || first === undefined) return undefined;
  const lattice = latticeOf(beat.metre);
  const map = mapOfBeat(beat);
  // An upbeat stays one; later bars are counted from the oldest that is kept.
  const oldest = Math.max(0, Math.floor(first.tick / lattice.bar)) * lattice.bar;
  const from = leadsOn(shown, lattice.bar) ? lattice.bar : oldest;
  const lengths = lengthsOf(
    shown.map(m => {
      const until = Math.max(...m.struck.map(s => s.roll?.until ?? s.gliss?.until ?? -Infinity));
      const struckAt = Math.min(...m.struck.map(s => s.at));
      const rolled = until === -Infinity ? {} : { rolled: ticksAt(map, until) - ticksAt(map, struckAt) };
      return { at: m.tick - from, ...rolled };
    }),
    lattice,
    false,
  );
  const lead = from - first.tick;
  const { ratio, of } = beat.swing;
  let strike = 0;
  return {
    metre: beat.metre,
    tempo: 60 / steadyBeat(beat.beats),
    upbeat: lead > 0 ? toFraction(lead) : ZERO,
    ...(ratio === 1 ? {} : { swing: { ratio, unit: toFraction(of === 'half' ? TICKS / 8 : TICKS / 16) } }),
    grid: 'automatic',
    notes: shown.flatMap((m, i) =>
      m.struck.map(s => {
        const number = strike++;
        return {
          onset: toFraction(m.tick - from),
          duration: toFraction(lengths[i] ?? lattice.bar),
          pitch: s.pitch,
          strike: number,
          doubt: 0,
          ...gracesOf((s.graces ?? []).map(g => ({ strike: -1, pitch: g }))),
          ...(s.roll === undefined ? {} : { roll: [number] }),
          ...(s.gliss === undefined ? {} : { gliss: glissShown(s.gliss, number) }),
        };
      }),
    ),
    dropped: [],
    misfit: 0,
    confidence: 0,
    reason: '',
    beats: beat.beats,
    firstBeat: beat.zero,
  };
};
