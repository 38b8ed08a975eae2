import { ok } from '../../../core/foundation/result.ts';
import type { MidiPitch } from '../../../core/foundation/units.ts';
import { corrected, suggestedKey } from '../../../core/piece/piece.ts';
import { pitchesGiven } from '../../../core/piece/rhythmOnly.ts';
import type { Command } from '../command.ts';
import { keyEvidence } from '../keyEvidence.ts';
import { withLive } from '../state.ts';
import { selectNotes } from './settings.ts';
import { step } from './step.ts';

/** Bars struck from now on are the pitches of the notes on the page, in order; nothing is changed before they are written in. */
export const beginPitching: Command = desk => {
  const cleared = selectNotes(desk, []);
  return cleared.ok ? ok(withLive(cleared.value, { pitching: [] })) : cleared;
};

/** One more bar was struck, and what was said of a wrong count goes; nothing where no pitches are asked for. */
export const addPitch: Command<[pitch: MidiPitch]> = (desk, pitch) =>
  ok(
    desk.live.pitching === undefined
      ? desk
      : withLive(desk, { pitching: [...desk.live.pitching, pitch], problem: undefined }),
  );

/** The last bar struck does not count. */
export const takeBackPitch: Command = desk =>
  ok(desk.live.pitching === undefined ? desk : withLive(desk, { pitching: desk.live.pitching.slice(0, -1) }));

export const leavePitching: Command = desk =>
  ok(desk.live.pitching === undefined ? desk : withLive(desk, { pitching: undefined }));

/**
 * The notes of the page get the bars that were struck, in one step, and the page a key that suits them, unless it was
 * chosen or is in use. Problems: those of `pitchesGiven`.
 */
export const writePitches: Command = desk => {
  const piece = desk.document.history?.present.piece;
  const { pitching } = desk.live;
  if (piece === undefined || pitching === undefined) return ok(desk);
  const edits = pitchesGiven(corrected(piece), pitching);
  if (!edits.ok) return edits;
  const there = withLive(desk, { pitching: undefined });
  return edits.value.length === 0
    ? ok(there)
    : step(there, 'give it pitches', old => {
        const given = { ...old, edits: [...old.edits, ...edits.value] };
        const isKeyFixed = old.keyChosen || old.plan !== undefined || old.motifBars !== undefined;
        const evidence = keyEvidence(desk, old.className, old.instrument);
        return isKeyFixed ? given : { ...given, key: suggestedKey(corrected(given), evidence) };
      });
};
