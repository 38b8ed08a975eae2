import type { ComponentChildren } from 'preact';
import { type BarRange, fullBars, cutOfNotes } from '../../../core/piece/motifOfReading.ts';
import { motifRange, type Piece } from '../../../core/piece/piece.ts';
import type { Reading } from '../../../core/reading/model/reading.ts';
import { useApp } from '../../desk/appContext.ts';
import { addMotif, dropMotif, setMotif } from '../../desk/commands/motifs.ts';
import { SentenceNumber } from '../parts/sentence.tsx';
import { HELP } from '../help/helpWords.ts';

const barsInWords = (cut: BarRange): string =>
  `${cut.from === cut.to ? `bar ${String(cut.from)}` : `bars ${String(cut.from)} to ${String(cut.to)}`}${cut.without === undefined ? '' : ', some of its notes'}`;

/** Motifs cut from the chosen notes: the motif itself, or a further one. */
export const FromNotes = (props: { reading: Reading }): ComponentChildren => {
  const { desk } = useApp();
  const strikes = desk.selectedNotes.value;
  const cut = cutOfNotes(props.reading, strikes);
  if (cut === undefined || strikes.length < 2) return null;
  return (
    <>
      <button
        class="plain word"
        onClick={() => {
          desk.run(setMotif, cut);
        }}
      >
        make it the chosen notes
      </button>
      <button
        class="plain word"
        onClick={() => {
          desk.run(addMotif, cut);
        }}
      >
        another motif from them
      </button>
    </>
  );
};

/** Which bars of the take are the motif. */
export const CutMotif = (props: { piece: Piece; reading: Reading }): ComponentChildren => {
  const { desk } = useApp();
  const { piece, reading } = props;
  const bars = fullBars(reading);
  const motif = motifRange(piece, reading);
  // Other bars have other notes in them; how repeats follow stays as it was chosen.
  const { from: _, to: __, without: ___, ...edges } = motif;
  if (bars <= 1 && reading.upbeat.n === 0 && motif.without === undefined) return null;
  return (
    <span class="sentence-group">
      {bars > 1 || reading.upbeat.n > 0 ? (
        <>
          <SentenceNumber
            before="The motif is bar"
            help={HELP.motif}
            value={motif.from}
            least={reading.upbeat.n > 0 ? 0 : 1}
            most={motif.to}
            onChoose={from => {
              desk.run(setMotif, { ...edges, from, to: Math.max(from, motif.to) });
            }}
          />
          <SentenceNumber
            before="to"
            help={HELP.motif}
            value={motif.to}
            least={Math.max(1, motif.from)}
            most={bars}
            onChoose={to => {
              desk.run(setMotif, { ...edges, from: motif.from, to });
            }}
          />
        </>
      ) : null}
      {motif.without === undefined ? null : <span>some of its notes</span>}
    </span>
  );
};

/** Further motifs of the same take: what they are, and away with those that nothing uses. */
export const MoreMotifs = (props: { piece: Piece }): ComponentChildren => {
  const { desk } = useApp();
  const used = new Set(props.piece.plan?.statements.map(s => s.motif));
  return (
    <>
      {(props.piece.moreMotifs ?? []).map(cut => (
        <span key={cut.id}>
          Motif {cut.id}: {barsInWords(cut)}{' '}
          {used.has(cut.id) ? null : (
            <button
              class="plain word"
              onClick={() => {
                desk.run(dropMotif, cut.id);
              }}
            >
              take away
            </button>
          )}
        </span>
      ))}
    </>
  );
};
