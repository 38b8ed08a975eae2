import type { ComponentChildren } from 'preact';
import { pitchName } from '../../../core/foundation/pitch.ts';
import { spell } from '../../../core/foundation/key.ts';
import { tactus } from '../../../core/foundation/metre.ts';
import { divide, remainder } from '../../../core/foundation/fraction.ts';
import { valueName, valueOf } from '../../../core/foundation/noteValue.ts';
import { barAndBeat } from '../../../core/parts/plan.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import type { Reading, ReadNote } from '../../../core/reading/reading.ts';
import { countOf } from '../../../core/score/counts.ts';
import { barLength } from '../../../core/foundation/metre.ts';
import { nameStyle, selectedNotes } from '../../store/app.ts';
import { CORRECTIONS, type Correction, takeOtherPlace } from '../../store/correct.ts';
import { DOUBTFUL } from './strikeLine.tsx';

const where = (reading: Reading, note: ReadNote): string => {
  if (note.onset.n < 0) return 'upbeat';
  const { bar } = barAndBeat(reading.metre, note.onset);
  return `bar ${String(bar)}, ${countOf(reading.metre, note.onset)}`;
};

const describe = (piece: Piece, reading: Reading, note: ReadNote): string => {
  const value = valueOf(note.duration);
  const beats = divide(note.duration, tactus(reading.metre));
  const length =
    value === undefined ? `${(beats.n / beats.d).toFixed(2)} beats` : valueName(value, nameStyle.value);
  return `${pitchName(spell(piece.key, note.pitch))} ${length}, ${where(reading, note)}`;
};

/** The chosen note in words, and every correction as a button; the keys beside them do the same. */
export const Correct = (props: { piece: Piece; reading: Reading }): ComponentChildren => {
  const { piece, reading } = props;
  const chosen = reading.notes.filter(note => selectedNotes.value.includes(note.strike));
  const [first] = chosen;
  const doubtful = reading.notes.filter(note => note.doubt >= DOUBTFUL).length;
  const run = (correction: Correction): void => {
    correction.run();
  };
  return (
    <div class="correct" role="group" aria-label="Correct the chosen note">
      <p class="chosen-note" aria-live="polite">
        {first === undefined ? (
          <>
            <span class="legend">
              <span class="triangle" aria-hidden="true" /> where the mallet fell
            </span>
            {doubtful > 0 ? (
              <span class="legend">
                <span class="diamond" aria-hidden="true" /> not sure of{' '}
                {doubtful === 1 ? 'this note' : 'these notes'}
              </span>
            ) : null}
            <span class="quiet">Choose a note to correct it.</span>
          </>
        ) : (
          <>
            <b>{chosen.length === 1 ? describe(piece, reading, first) : `${String(chosen.length)} notes`}</b>
            {first.doubt >= DOUBTFUL && (first.elsewhere?.length ?? 0) > 0 ? (
              <>
                {' '}
                might be at{' '}
                {first.elsewhere?.slice(0, 2).map((onset, i) => (
                  <button
                    key={i}
                    class="plain word"
                    onClick={() => {
                      takeOtherPlace(first, onset);
                    }}
                  >
                    {onset.n < 0
                      ? 'the upbeat'
                      : `${String(barAndBeat(reading.metre, onset).bar)}: ${countOf(reading.metre, remainder(onset, barLength(reading.metre)))}`}
                  </button>
                ))}
              </>
            ) : null}
          </>
        )}
      </p>
      <div class="tools">
        {CORRECTIONS.map(correction => (
          <button
            key={correction.id}
            class="tool"
            disabled={first === undefined && correction.needsNote}
            title={correction.keys}
            onClick={() => {
              run(correction);
            }}
          >
            {correction.text}
          </button>
        ))}
      </div>
    </div>
  );
};
