import { ok } from '../../../core/foundation/result.ts';
import type { MidiPort } from '../../input/midiOut.ts';
import type { Command } from '../command.ts';
import type { SendSettings } from '../session.ts';
import { withLive, withSession } from '../state.ts';

/** What a piece may be sent to. */
export const setOutputs: Command<[outputs: readonly MidiPort[]]> = (desk, outputs) =>
  ok(withLive(desk, { outputs }));

/** What it is sent to from now on; undefined for nothing. */
export const setSentTo: Command<[sentTo: MidiPort | undefined]> = (desk, sentTo) =>
  ok(withLive(desk, { sentTo }));

/** Changes how it is sent. */
export const setSends: Command<[change: Partial<SendSettings>]> = (desk, change) =>
  ok(withSession(desk, { sends: { ...desk.session.sends, ...change } }));
