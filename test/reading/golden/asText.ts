import { show, times } from '../../../core/foundation/fraction.ts';
import { showMetre } from '../../../core/foundation/metre.ts';
import type { Reading, ReadNote } from '../../../core/reading/model/reading.ts';

const note = (n: ReadNote): string =>
  [
    `${show(times(n.onset, 4))}:${show(times(n.duration, 4))}`,
    n.doubt > 0.011 ? `?${n.doubt.toFixed(2)}` : '',
    n.elsewhere === undefined ? '' : `(${n.elsewhere.map(e => show(times(e, 4))).join(' ')})`,
    n.ruff === undefined ? '' : `r${String(n.ruff.length)}`,
    n.grace === undefined ? '' : 'g',
    n.roll === undefined ? '' : `~${String(n.roll.length)}`,
  ].join('');

/** A reading as a few lines of text: everything of it that a teacher sees or the app goes on with. */
export const asText = (reading: Reading): string => {
  const { beats, firstBeat } = reading;
  const seconds = [beats[0], beats[firstBeat], beats.at(-1)].map(b => b?.toFixed(3));
  return [
    `${reading.confidence.toFixed(3)} ${showMetre(reading.metre)} ${reading.tempo.toFixed(1)} ${reading.grid}; ${reading.reason}`,
    [
      `misfit ${reading.misfit.toFixed(2)}`,
      `beats ${seconds.join(' ')} of ${String(beats.length)}`,
      ...(reading.upbeat.n === 0 ? [] : [`upbeat ${show(times(reading.upbeat, 4))}`]),
      ...(reading.swing === undefined
        ? []
        : [`swing ${reading.swing.ratio.toFixed(3)} of ${show(reading.swing.unit)}`]),
      ...(reading.period === undefined ? [] : [`period ${String(reading.period)}`]),
      ...(reading.dropped.length === 0 ? [] : [`dropped ${reading.dropped.join(' ')}`]),
    ].join(', '),
    reading.notes.map(note).join(' '),
  ].join('\n  ');
};
