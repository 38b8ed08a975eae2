import { ok } from '../../../core/foundation/result.ts';
import type { RegisterEntry } from '../../../core/library/library.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import type { Command } from '../command.ts';
import type { DocumentState } from '../document.ts';
import { EMPTY_LIVE, NOTHING_TRIED } from '../live.ts';
import type { SessionState } from '../session.ts';
import { type DeskState, withLive } from '../state.ts';

/** Whether the register has the piece as it now lies here, as a version or as a draft. */
export const isInRegister = ({ history, kept, drafted }: DocumentState): boolean => {
  const piece = history?.present.piece;
  return piece === undefined || piece === kept || piece === drafted;
};

/** A piece goes to the register as a draft; one that waits there already, in an older state, gives way. */
export const posted = (document: DocumentState, piece: Piece): DocumentState => ({
  ...document,
  outbox: [...document.outbox.filter(waiting => waiting.id !== piece.id), piece],
});

/** What lies on the desk goes to the register as a draft, unless the register has it: nothing is replaced unkept. */
export const setAside = (desk: DeskState): DeskState => {
  const { document } = desk;
  const piece = document.history?.present.piece;
  return piece === undefined || isInRegister(document)
    ? desk
    : { ...desk, document: posted(document, piece) };
};

/**
 * A session in which nothing of the piece that lay here is chosen, and it is not rehearsed any more; bars struck for its
 * rhythm wait until they are asked for.
 */
export const choosingNothing = (session: SessionState): SessionState => ({
  ...session,
  selectedNotes: [],
  selectedStatement: undefined,
  selectedPlanNote: undefined,
  isRehearsing: false,
  pitching: session.pitching && { ...session.pitching, isOpen: false },
});
/** What belonged to the piece that lay here, and is over. */
const { followed, rippled, lastPinned, problem, taps } = EMPTY_LIVE;
export const NOTHING_UNDER_WAY = {
  ...NOTHING_TRIED,
  followed,
  rippled,
  lastPinned,
  problem,
  taps,
} as const;

/** The desk empty, what lay there safe in the register. */
export const emptied = (desk: DeskState): DeskState => {
  const aside = setAside(desk);
  return withLive(
    {
      ...aside,
      document: { ...aside.document, history: undefined, kept: undefined, drafted: undefined },
      session: choosingNothing(aside.session),
    },
    { ...NOTHING_UNDER_WAY, readings: [] },
  );
};

/** The register has a draft of this piece. */
export const shelved: Command<[piece: Piece, entry: Pick<RegisterEntry, 'id' | 'revision'>]> = (
  desk,
  piece,
  entry,
) => {
  const { document } = desk;
  return ok({
    ...desk,
    document: {
      ...document,
      outbox: document.outbox.filter(waiting => waiting !== piece),
      drafted: document.history?.present.piece === piece ? piece : document.drafted,
      revisions: { ...document.revisions, [entry.id]: entry.revision },
    },
  });
};
