import type { ComponentChildren } from 'preact';
import {
  type BarRange,
  fullBars,
  cutOfNotes,
  likelyMotif,
  type MotifCut,
} from '../../../core/piece/motifOfReading.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import type { Reading } from '../../../core/reading/model/reading.ts';
import { selectedNotes } from '../../store/app.ts';
import { step } from '../../store/change.ts';
import { SentenceNumber } from '../parts/sentence.tsx';

const setMotif = (range: BarRange): void => {
  step('cut the motif', old => ({ ...old, motifBars: range }));
};

const nextId = (more: readonly MotifCut[]): string =>
  String(Math.max(1, ...more.map(cut => Number(cut.id))) + 1);

const barsInWords = (cut: BarRange): string =>
  `${cut.from === cut.to ? `bar ${String(cut.from)}` : `bars ${String(cut.from)} to ${String(cut.to)}`}${cut.without === undefined ? '' : ', some of its notes'}`;

/** Motifs cut from the chosen notes: the motif itself, or a further one. */
const FromNotes = (props: { reading: Reading; more: readonly MotifCut[] }): ComponentChildren => {
  const cut = cutOfNotes(props.reading, selectedNotes.value);
  if (cut === undefined || selectedNotes.value.length < 2) return null;
  return (
    <>
      <button
        class="plain word"
        onClick={() => {
          setMotif(cut);
        }}
      >
        make it the chosen notes
      </button>
      <button
        class="plain word"
        onClick={() => {
          const id = nextId(props.more);
          step(`motif ${id} from the chosen notes`, old => ({
            ...old,
            moreMotifs: [...(old.moreMotifs ?? []), { ...cut, id }],
          }));
        }}
      >
        another motif from them
      </button>
    </>
  );
};

/** Which bars or notes of the take are the motif, and further motifs of the same take. */
export const CutMotif = (props: { piece: Piece; reading: Reading }): ComponentChildren => {
  const { piece, reading } = props;
  const bars = fullBars(reading);
  const motif = piece.motifBars ?? likelyMotif(reading);
  const more = piece.moreMotifs ?? [];
  const used = new Set(piece.plan?.statements.map(s => s.motif));
  return (
    <span class="sentence-group">
      {bars > 1 || reading.upbeat.n > 0 ? (
        <>
          <SentenceNumber
            before="The motif is bar"
            value={motif.from}
            least={reading.upbeat.n > 0 ? 0 : 1}
            most={motif.to}
            onChoose={from => {
              setMotif({ from, to: Math.max(from, motif.to) });
            }}
          />
          <SentenceNumber
            before="to"
            value={motif.to}
            least={Math.max(1, motif.from)}
            most={bars}
            onChoose={to => {
              setMotif({ from: motif.from, to });
            }}
          />
        </>
      ) : null}
      {motif.without === undefined ? null : <span>some of its notes</span>}
      <FromNotes reading={reading} more={more} />
      {more.map(cut => (
        <span key={cut.id}>
          Motif {cut.id}: {barsInWords(cut)}{' '}
          {used.has(cut.id) ? null : (
            <button
              class="plain word"
              onClick={() => {
                step(`take motif ${cut.id} away`, old => ({
                  ...old,
                  moreMotifs: (old.moreMotifs ?? []).filter(other => other.id !== cut.id),
                }));
              }}
            >
              take away
            </button>
          )}
        </span>
      ))}
    </span>
  );
};
