import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { RegisterRow } from '../../../core/library/register.ts';
import type { PieceFacts } from '../../../core/library/facts.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import { pieceInWords } from '../../../core/piece/pupil.ts';
import {
  exportMidi,
  exportMusicXml,
  exportPdf,
  exportPicture,
  exportPlayed,
  exportWav,
  lastPlayed,
} from '../../desk/acts/handOn.ts';
import { useApp } from '../../desk/appContext.ts';
import { findLikePiece } from '../../desk/commands/alike.ts';
import { goTo, lookAt, showWindow } from '../../desk/commands/settings.ts';
import type { Pupil } from '../../../core/piece/pupil.ts';
import { giveTo } from '../../desk/commands/pupils.ts';
import { Giving } from './giving.tsx';
import { Drop } from '../parts/drop.tsx';
import { printPiece } from '../../desk/acts/printing.ts';

interface Thing {
  readonly text: string;
  readonly run: () => Promise<void> | void;
}

/** Everything that can be done with a piece of the register, in one menu. */
export const HandOn = (props: { row: RegisterRow; facts: PieceFacts }): ComponentChildren => {
  const { desk, sound, keeper, carrying } = useApp();
  const { entry } = props.row;
  const [isGiving, setGiving] = useState(false);
  const of = pieceInWords(props.facts);
  /** Does something with the piece, which the library may have to read first. */
  const withPiece = (job: (piece: Piece) => unknown) => async (): Promise<void> => {
    const piece = props.row.piece ?? (entry === undefined ? undefined : await keeper.piece(entry));
    if (piece !== undefined) await job(piece);
  };
  const out: readonly Thing[] = [
    { text: 'Print', run: withPiece(piece => printPiece(desk, piece)) },
    { text: 'PDF', run: withPiece(piece => exportPdf(desk, piece, 'score')) },
    { text: 'PDF of each part', run: withPiece(piece => exportPdf(desk, piece, 'parts')) },
    { text: 'WAV', run: withPiece(piece => exportWav(desk, piece, sound)) },
    {
      text: 'MIDI file',
      run: withPiece(piece => {
        exportMidi(desk, piece);
      }),
    },
    ...(props.facts.playings === 0
      ? []
      : [
          {
            text: 'MIDI file, as played',
            run: withPiece(piece => {
              const playing = lastPlayed(piece);
              if (playing !== undefined) exportPlayed(desk, piece, playing);
            }),
          },
        ]),
    {
      text: 'MusicXML',
      run: withPiece(piece => {
        exportMusicXml(desk, piece);
      }),
    },
    { text: 'Picture (SVG)', run: withPiece(piece => exportPicture(desk, piece, 'svg')) },
    {
      text: 'Portable file',
      run: () => carrying.make([props.row], `${props.facts.codeName} ${props.facts.title}`),
    },
    { text: 'Picture (PNG)', run: withPiece(piece => exportPicture(desk, piece, 'png')) },
  ];
  /** What is said of a piece is a step of it, which can be undone: it is opened first. */
  const assess = async (): Promise<void> => {
    if (entry !== undefined && !props.row.isOpen) {
      await keeper.open(entry);
      desk.run(goTo, 'keep');
    }
    if (desk.piece.peek()?.id === (entry ?? props.row.piece)?.id) desk.run(showWindow, 'assessment');
  };
  const assessing: readonly Thing[] =
    entry === undefined && !props.row.isOpen ? [] : [{ text: 'Review and evidence', run: assess }];
  const finding: Thing = {
    text: 'Find others like it',
    run: () => {
      desk.run(findLikePiece, props.facts);
    },
  };
  const here: readonly Thing[] =
    entry === undefined
      ? []
      : [
          {
            text: 'Give to another pupil',
            run: () => {
              setGiving(true);
            },
          },
          {
            text: 'Versions',
            run: () => {
              desk.run(lookAt, entry.id);
            },
          },
          entry.away
            ? { text: 'Bring back', run: () => keeper.putAway(entry, false) }
            : { text: 'Put away', run: () => keeper.putAway(entry, true) },
        ];
  const give = async (pupil: Pupil | undefined): Promise<void> => {
    if (entry === undefined) return;
    // Opened first, where it does not lie open: the giving is a step that can be undone there.
    if (!props.row.isOpen) await keeper.open(entry);
    desk.run(giveTo, pupil);
  };
  const menu = (
    <Drop
      class="tool hand-on"
      label={`Hand on ${of}`}
      text={
        <>
          <span>Hand on</span>
          <span class="caret ink" aria-hidden="true" />
        </>
      }
      panelLabel={`Hand on ${of}`}
      panelClass="menu"
      menu
    >
      {close => {
        const button = ({ text, run }: Thing): ComponentChildren => (
          <button
            key={text}
            class="menu-item"
            aria-label={`${text} of ${of}`}
            onClick={() => {
              close();
              void run();
            }}
          >
            {text}
          </button>
        );
        return (
          <>
            {out.map(button)}
            <hr />
            {[...assessing, finding, ...here].map(button)}
          </>
        );
      }}
    </Drop>
  );
  return (
    <>
      {menu}
      {isGiving ? (
        <Giving
          of={of}
          onGive={pupil => void give(pupil)}
          onClose={() => {
            setGiving(false);
          }}
        />
      ) : null}
    </>
  );
};
