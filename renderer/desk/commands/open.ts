import { failed, ok } from '../../../core/foundation/result.ts';
import type { RegisterEntry } from '../../../core/library/library.ts';
import { unusualMallet } from '../../../core/instruments/mallets.ts';
import { record, startHistory } from '../../../core/piece/history.ts';
import { motifRange, newPiece, type Piece } from '../../../core/piece/piece.ts';
import type { Metre } from '../../../core/foundation/metre.ts';
import type { Hints } from '../../../core/reading/model/reading.ts';
import { firstHints } from '../../../core/piece/rereading.ts';
import { isSamePupil, ownedBy, pieceInWords, type Pupil, pupilOf } from '../../../core/piece/pupil.ts';
import type { Take } from '../../../core/take/take.ts';
import type { DocumentState } from '../document.ts';
import type { AskingCommand, Command } from '../command.ts';
import { keyEvidence } from '../keyEvidence.ts';
import { type DeskState, withLive } from '../state.ts';
import { choosingNothing, NOTHING_UNDER_WAY, posted, setAside } from './aside.ts';
import { currentRoom } from './room.ts';
import { turnOf } from './turns.ts';
import { goTo } from './settings.ts';
import { step } from './step.ts';

/** What of a piece the register has already. */
type InRegister = Partial<Pick<DocumentState, 'kept' | 'drafted'>>;

/**
 * Puts a piece on the desk. One that lay there and was not kept is in the register as a draft, and comes
 * back by undo.
 */
const lay = (desk: DeskState, name: string, piece: Piece, has: InRegister = {}): DeskState => {
  const { document, session, live } = setAside(desk);
  const next = { piece, room: currentRoom(desk) };
  return {
    document: {
      ...document,
      history: document.history === undefined ? startHistory(next) : record(document.history, name, next),
      kept: has.kept,
      drafted: has.drafted,
    },
    session: { ...choosingNothing(session), view: piece.plan === undefined ? 'write' : 'grow' },
    live: { ...live, ...NOTHING_UNDER_WAY, notice: '' },
  };
};

/** What a new piece is made from. */
export interface Beginning {
  readonly take: Take;
  readonly title: string;
  /** Of the new piece. */
  readonly id: string;
  /** Whose it is: who played when it was caught, whoever plays when the reader has answered. */
  readonly pupil: Pupil | undefined;
  /** Chosen in Play, where it counts although no click went (`metreChosen`). */
  readonly metre?: Metre;
  /** Said when it is there. */
  readonly notice?: string;
}

/** Starts a piece from a take: reads it, takes the best reading, goes to Write. */
export const startPiece: AskingCommand<[begin: Beginning]> = (
  _desk,
  { take, title, id, pupil, metre, notice = '' },
) => {
  const hints: Hints = {
    ...(metre === undefined || take.click !== undefined ? {} : { metre }),
    ...firstHints(take),
  };
  return ok({
    questions: [{ take, hints }],
    then: (desk, [found]) => {
      const best = found?.[0];
      if (best === undefined) {
        return failed({
          kind: 'no-notes',
          what: 'There are no strikes in this take.',
          kept: 'What was played before is still remembered.',
          next: 'Play something, then press Catch that.',
        });
      }
      const { instrument, mallets } = desk.session.play;
      const mallet = unusualMallet(instrument, mallets[instrument]);
      const owned = ownedBy(pupil);
      const evidence = keyEvidence(desk, owned.className, instrument);
      const made = newPiece(
        { id, title, ...owned, instrument, ...(mallet === undefined ? {} : { mallet }), take, hints },
        best,
        evidence,
      );
      // Somebody else has sat down since: this piece waits for its pupil in the register.
      if (!isSamePupil(desk.session.pupil, pupil))
        return ok(
          withLive(
            { ...desk, document: posted(desk.document, made) },
            { notice: `${pieceInWords(made)} is safe in the register.` },
          ),
        );
      return ok(withLive(lay(desk, `begin ${title}`, made), { notice }));
    },
  });
};

/** What is opened: a piece of the register, as its newest revision or an older one has it. */
export type Opened = Pick<RegisterEntry, 'id' | 'revision'> &
  Partial<Pick<RegisterEntry, 'draft'>> & { readonly piece: Piece };

/** Opens a piece of the register where it was left. */
export const openEntry: Command<[entry: Opened]> = (desk, entry) => {
  const there = turnOf(desk, pupilOf(entry.piece));
  const has = entry.draft === true ? { drafted: entry.piece } : { kept: entry.piece };
  const laid = lay(there, `open ${entry.piece.title}`, entry.piece, has);
  const revisions = { ...laid.document.revisions, [entry.id]: entry.revision };
  return ok({ ...laid, document: { ...laid.document, revisions } });
};

/**
 * Puts a piece back as one of its revisions has it, in one step that can be undone; opens it first where
 * something else lies on the desk.
 */
export const bringBack: Command<[entry: Opened, was: Piece]> = (desk, entry, was) => {
  const isOpen = desk.document.history?.present.piece.id === entry.id;
  const there = isOpen ? ok(desk) : openEntry(desk, entry);
  if (!there.ok) return there;
  // Whose it is now it stays: an older version may have been another's.
  return step(there.value, 'bring a version back', now => ({ ...was, ...ownedBy(pupilOf(now)) }));
};

const NAMING = 'name it ';

/**
 * Names the piece that lies here. Whose it is stays as it was. Words are taken over while they are typed: all that is
 * typed in one go is one step, called by what it came to, and none where it came to what it was.
 * @param before the title when typing began, where some of what was typed since has been taken over
 */
export const nameIt: Command<[title: string, before?: string]> = (desk, title, before) => {
  const { history } = desk.document;
  const last = history?.past.at(-1);
  if (
    before === undefined ||
    history === undefined ||
    last?.name.startsWith(NAMING) !== true ||
    // A naming that is older than this typing is a step of its own.
    last.state.piece.title !== before ||
    history.future.length > 0
  )
    return step(desk, `${NAMING}${title}`, old => (title === old.title ? old : { ...old, title }));
  const { piece } = history.present;
  const earlier = history.past.slice(0, -1);
  const past = before === title ? earlier : [...earlier, { ...last, name: `${NAMING}${title}` }];
  const present = { ...history.present, piece: { ...piece, title } };
  return ok({ ...desk, document: { ...desk.document, history: { ...history, past, present } } });
};

/** Takes the likely motif where none was cut, and goes on to Grow. */
export const goOnWithMotif: Command = desk => {
  const cut = step(desk, 'use this motif', old =>
    old.motifBars === undefined ? { ...old, motifBars: motifRange(old) } : old,
  );
  return cut.ok ? goTo(cut.value, 'grow') : cut;
};
