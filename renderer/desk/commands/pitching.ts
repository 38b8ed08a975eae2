import { ok } from '../../../core/foundation/result.ts';
import type { MidiPitch } from '../../../core/foundation/units.ts';
import { corrected, suggestedKey } from '../../../core/piece/piece.ts';
import { pitchesGiven } from '../../../core/piece/rhythmOnly.ts';
import { counted } from '../../../core/plan/intervals.ts';
import type { Command } from '../command.ts';
import { keyEvidence } from '../keyEvidence.ts';
import { MOST_PITCHES, type Pitching } from '../session.ts';
import { type DeskState, withLive, withSession } from '../state.ts';
import { selectNotes } from './settings.ts';
import { step } from './step.ts';

const counting = (desk: DeskState, pitching: Pitching | undefined): DeskState =>
  withSession(desk, { pitching });

/** The bars struck so far for the notes of the page; undefined while none are asked for. */
export const pitchingNow = (desk: DeskState): readonly MidiPitch[] | undefined => {
  const { pitching } = desk.session;
  return pitching?.isOpen === true && pitching.piece === desk.document.history?.present.piece.id
    ? pitching.struck
    : undefined;
};

/**
 * Bars struck from now on are the pitches of the notes on the page, in order; nothing is changed before they are written
 * in. What was struck for them before still counts.
 */
export const beginPitching: Command = desk => {
  const piece = desk.document.history?.present.piece;
  if (piece === undefined) return ok(desk);
  const cleared = selectNotes(desk, []);
  if (!cleared.ok) return cleared;
  const before = desk.session.pitching;
  const struck = before?.piece === piece.id ? before.struck : [];
  return ok(counting(cleared.value, { piece: piece.id, struck, isOpen: true }));
};

/** One more bar was struck, and what was said of a wrong count goes; nothing where no pitches are asked for. */
export const addPitch: Command<[pitch: MidiPitch]> = (desk, pitch) => {
  const { pitching } = desk.session;
  const struck = pitchingNow(desk);
  return ok(
    pitching === undefined || struck === undefined || struck.length >= MOST_PITCHES
      ? desk
      : withLive(counting(desk, { ...pitching, struck: [...struck, pitch] }), { problem: undefined }),
  );
};

/** The last bar struck does not count. */
export const takeBackPitch: Command = desk => {
  const { pitching } = desk.session;
  const struck = pitchingNow(desk);
  return ok(
    pitching === undefined || struck === undefined
      ? desk
      : counting(desk, { ...pitching, struck: struck.slice(0, -1) }),
  );
};

/** Bars struck from now on are music again; those struck so far wait. */
export const leavePitching: Command = desk => {
  const { pitching } = desk.session;
  if (pitching?.isOpen !== true) return ok(desk);
  const bars = pitching.struck.length;
  const closed = counting(desk, bars === 0 ? undefined : { ...pitching, isOpen: false });
  return ok(
    bars === 0
      ? closed
      : withLive(closed, {
          notice: `The ${counted(bars, 'bar')} you struck ${bars === 1 ? 'waits' : 'wait'} here.`,
        }),
  );
};

/**
 * The notes of the page get the bars that were struck, in one step, and the page a key that suits them, unless it was
 * chosen or is in use. Problems: those of `pitchesGiven`.
 */
export const writePitches: Command = desk => {
  const piece = desk.document.history?.present.piece;
  const struck = pitchingNow(desk);
  if (piece === undefined || struck === undefined) return ok(desk);
  const edits = pitchesGiven(corrected(piece), struck);
  if (!edits.ok) return edits;
  const there = counting(desk, undefined);
  return edits.value.length === 0
    ? ok(there)
    : step(there, 'give it pitches', old => {
        const given = { ...old, edits: [...old.edits, ...edits.value] };
        const isKeyFixed = old.keyChosen || old.plan !== undefined || old.motifBars !== undefined;
        const evidence = keyEvidence(desk, old.className, old.instrument);
        return isKeyFixed ? given : { ...given, key: suggestedKey(corrected(given), evidence) };
      });
};
