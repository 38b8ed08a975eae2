import type { ComponentChildren } from 'preact';
import { useEffect, useMemo, useState } from 'preact/hooks';
import { say } from '../../../core/foundation/result.ts';
import { findEntries } from '../../../core/library/find.ts';
import type { RegisterEntry } from '../../../core/library/library.ts';
import { treatmentsUsed } from '../../../core/plan/naming.ts';
import { motifOf, type Piece, readingScore } from '../../../core/piece/piece.ts';
import { nameOfPupil, pieceInWords, pupilOf } from '../../../core/piece/pupil.ts';
import { exportMidi, exportMusicXml, exportPdf, exportPicture, exportWav } from '../../desk/acts/handOn.ts';
import { useApp } from '../../desk/appContext.ts';
import { openEntry } from '../../desk/commands/open.ts';
import { Incipit } from '../parts/incipit.tsx';
import { SentenceChoice } from '../parts/sentence.tsx';
import { LibraryPlace } from './libraryPlace.tsx';
import { PaperChoice } from './paperChoice.tsx';
import { printPiece } from './printPage.ts';

const grownWith = (saved: Piece): string =>
  saved.plan === undefined
    ? 'none yet'
    : treatmentsUsed(motifOf(saved), saved.plan).join(', ') || 'the motif alone';

const stateOf = (saved: Piece): string => (saved.plan === undefined ? '○ being written' : '● being grown');

const when = (iso: string): string => {
  const at = new Date(iso);
  return Number.isNaN(at.getTime())
    ? ''
    : at.toLocaleString('en-GB', { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });
};

interface Thing {
  readonly text: string;
  readonly run: () => void;
}

const HandOn = (props: { piece: Piece }): ComponentChildren => {
  const { desk, sound } = useApp();
  const { piece: saved } = props;
  const paperThings: readonly Thing[] = [
    { text: 'PDF', run: () => void exportPdf(desk, saved, 'score') },
    { text: 'PDF of each part', run: () => void exportPdf(desk, saved, 'parts') },
    { text: 'Print', run: () => void printPiece(desk, saved, desk.paper.peek()) },
  ];
  const files: readonly Thing[] = [
    { text: 'WAV', run: () => void exportWav(desk, saved, sound) },
    {
      text: 'MIDI file',
      run: () => {
        exportMidi(desk, saved);
      },
    },
    {
      text: 'MusicXML',
      run: () => {
        exportMusicXml(desk, saved);
      },
    },
    { text: 'Picture (SVG)', run: () => void exportPicture(desk, saved, 'svg') },
    { text: 'Picture (PNG)', run: () => void exportPicture(desk, saved, 'png') },
  ];
  const button = ({ text, run }: Thing): ComponentChildren => (
    <button key={text} class="tool" aria-label={`${text} of ${pieceInWords(saved)}`} onClick={run}>
      {text}
    </button>
  );
  return (
    <>
      {paperThings.map(button)}
      <details class="more-files">
        <summary class="tool" aria-label={`More files of ${pieceInWords(saved)}`}>
          More files
        </summary>
        <div class="row-tools">{files.map(button)}</div>
      </details>
    </>
  );
};

const Row = (props: { entry: RegisterEntry }): ComponentChildren => {
  const { desk } = useApp();
  const { entry } = props;
  const saved = entry.piece;
  const score = useMemo(() => readingScore(saved), [saved]);
  return (
    <tr>
      <th scope="row">
        <b>{nameOfPupil(pupilOf(saved))}</b>
        <br />
        <span class="quiet">{saved.className}</span>
      </th>
      <td>{saved.title}</td>
      <td>
        <Incipit score={score} bars={2} label={`How ${saved.title} begins`} scale={0.6} />
      </td>
      <td>{grownWith(saved)}</td>
      <td>
        {stateOf(saved)}
        <br />
        <span class="quiet">
          {when(entry.savedAt)}
          {entry.rivals.length > 0 ? `, ${String(entry.rivals.length + 1)} newest versions` : ''}
        </span>
      </td>
      <td>
        <div class="row-tools">
          <button
            class="tool"
            aria-label={`Open ${pieceInWords(saved)}`}
            onClick={() => {
              desk.run(openEntry, entry);
            }}
          >
            Open
          </button>
          <HandOn piece={saved} />
        </div>
      </td>
    </tr>
  );
};

/** Keep: the class register, and the one press that keeps what is open. */
export const Keep = (): ComponentChildren => {
  const { desk, keeper } = useApp();
  const now = desk.piece.value;
  const isKept = desk.isKept.value;
  const library = desk.library.value;
  const [className, setClass] = useState('');
  const [asked, setAsked] = useState('');
  useEffect(() => {
    void keeper.refresh();
  }, []);
  const classes = [...new Set(library.entries.map(e => e.piece.className))].sort();
  const shown = findEntries(
    library.entries.filter(e => className === '' || e.piece.className === className),
    asked,
  );
  return (
    <>
      <div class="keep-top">
        <span class="sentences">
          <SentenceChoice
            before="Showing"
            value={className}
            choices={[
              { value: '', text: 'every class' },
              ...classes.map(c => ({ value: c, text: `class ${c}` })),
            ]}
            onChoose={setClass}
          />
          <label class="sentence">
            with
            <input
              class="blank find"
              type="search"
              placeholder="any words"
              value={asked}
              onInput={event => {
                setAsked(event.currentTarget.value);
              }}
            />
          </label>
          <LibraryPlace />
        </span>
        {now === undefined ? null : (
          <button
            class="main-action"
            disabled={library.where === undefined || isKept}
            onClick={() => {
              void keeper.keep();
            }}
          >
            {isKept ? 'Kept' : `Keep ${now.title}`}
          </button>
        )}
      </div>
      <div class="sentences" role="group" aria-label="On paper">
        <span class="quiet">On paper:</span>
        <PaperChoice />
      </div>
      {now === undefined || isKept ? null : (
        <div class="row-tools" role="group" aria-label="Hand on what is open">
          <span class="quiet">{pieceInWords(now)}:</span>
          <HandOn piece={now} />
        </div>
      )}
      {library.damaged.map((problem, i) => (
        <div class="problem" key={i}>
          <span aria-hidden="true">△</span>
          <p>{say(problem)}</p>
        </div>
      ))}
      <section class="sheet register-sheet" aria-label="Class register" tabIndex={0}>
        {shown.length === 0 ? (
          <p class="register-empty quiet">
            {library.state === 'opening'
              ? 'Opening the class library…'
              : library.entries.length > 0
                ? 'Nothing here has those words.'
                : 'Nothing is kept yet. Catch an idea, then press Keep here.'}
          </p>
        ) : (
          <table class="register">
            <thead>
              <tr>
                {['code name', 'idea', 'begins', 'grown with', 'state', 'hand on'].map(head => (
                  <th key={head} scope="col">
                    {head}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {shown.map(entry => (
                <Row key={entry.id} entry={entry} />
              ))}
            </tbody>
          </table>
        )}
      </section>
    </>
  );
};
