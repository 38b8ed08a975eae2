import type { ComponentChildren } from 'preact';
import { useEffect, useMemo, useState } from 'preact/hooks';
import { say } from '../../../core/foundation/result.ts';
import { findEntries } from '../../../core/library/find.ts';
import type { RegisterEntry } from '../../../core/library/library.ts';
import { treatmentsUsed } from '../../../core/plan/naming.ts';
import { motifOf, type Piece, readingScore } from '../../../core/piece/piece.ts';
import { piece } from '../../store/app.ts';
import { exportMidi, exportMusicXml, exportPdf, exportPicture, exportWav } from '../../store/exportFiles.ts';
import {
  damaged,
  entries,
  isKept,
  keepPiece,
  library,
  libraryState,
  openEntry,
  refresh,
} from '../../store/keeping.ts';
import type { Sound } from '../../sound/sound.ts';
import { Incipit } from '../parts/incipit.tsx';
import { SentenceChoice } from '../parts/sentence.tsx';
import { paper } from '../../store/paper.ts';
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

const HandOn = (props: { piece: Piece; sound: Sound }): ComponentChildren => {
  const { piece: saved, sound } = props;
  const paperThings: readonly Thing[] = [
    { text: 'PDF', run: () => void exportPdf(saved, 'score') },
    { text: 'PDF of each part', run: () => void exportPdf(saved, 'parts') },
    { text: 'Print', run: () => void printPiece(saved, paper.value) },
  ];
  const files: readonly Thing[] = [
    { text: 'WAV', run: () => void exportWav(saved, sound) },
    {
      text: 'MIDI file',
      run: () => {
        exportMidi(saved);
      },
    },
    {
      text: 'MusicXML',
      run: () => {
        exportMusicXml(saved);
      },
    },
    { text: 'Picture (SVG)', run: () => void exportPicture(saved, 'svg') },
    { text: 'Picture (PNG)', run: () => void exportPicture(saved, 'png') },
  ];
  const button = ({ text, run }: Thing): ComponentChildren => (
    <button
      key={text}
      class="tool"
      aria-label={`${text} of ${saved.title} by ${saved.codeName}`}
      onClick={run}
    >
      {text}
    </button>
  );
  return (
    <>
      {paperThings.map(button)}
      <details class="more-files">
        <summary class="tool" aria-label={`More files of ${saved.title} by ${saved.codeName}`}>
          More files
        </summary>
        <div class="row-tools">{files.map(button)}</div>
      </details>
    </>
  );
};

const Row = (props: { entry: RegisterEntry; sound: Sound }): ComponentChildren => {
  const { entry, sound } = props;
  const saved = entry.piece;
  const score = useMemo(() => readingScore(saved), [saved]);
  return (
    <tr>
      <th scope="row">
        <b>{saved.codeName}</b>
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
            aria-label={`Open ${saved.title} by ${saved.codeName}`}
            onClick={() => {
              openEntry(entry);
            }}
          >
            Open
          </button>
          <HandOn piece={saved} sound={sound} />
        </div>
      </td>
    </tr>
  );
};

/** Keep: the class register, and the one press that keeps what is open. */
export const Keep = (props: { sound: Sound }): ComponentChildren => {
  const now = piece.value;
  const [className, setClass] = useState('');
  const [asked, setAsked] = useState('');
  useEffect(() => {
    void refresh();
  }, []);
  const classes = [...new Set(entries.value.map(e => e.piece.className))].sort();
  const shown = findEntries(
    entries.value.filter(e => className === '' || e.piece.className === className),
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
            disabled={library.value === undefined || isKept(now)}
            onClick={() => {
              void keepPiece();
            }}
          >
            {isKept(now) ? 'Kept' : `Keep ${now.title}`}
          </button>
        )}
      </div>
      <div class="sentences" role="group" aria-label="On paper">
        <span class="quiet">On paper:</span>
        <PaperChoice />
      </div>
      {now === undefined || isKept(now) ? null : (
        <div class="row-tools" role="group" aria-label="Hand on what is open">
          <span class="quiet">
            {now.codeName}, {now.title}:
          </span>
          <HandOn piece={now} sound={props.sound} />
        </div>
      )}
      {damaged.value.map((problem, i) => (
        <div class="problem" key={i}>
          <span aria-hidden="true">△</span>
          <p>{say(problem)}</p>
        </div>
      ))}
      <section class="sheet register-sheet" aria-label="Class register" tabIndex={0}>
        {shown.length === 0 ? (
          <p class="register-empty quiet">
            {libraryState.value === 'opening'
              ? 'Opening the class library…'
              : entries.value.length > 0
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
                <Row key={entry.id} entry={entry} sound={props.sound} />
              ))}
            </tbody>
          </table>
        )}
      </section>
    </>
  );
};
