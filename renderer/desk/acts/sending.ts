import { channelOf } from '../../../core/exchange/midiMessages.ts';
import { channelVolume } from '../../../core/exchange/standardMidi.ts';
import type { Seconds } from '../../../core/foundation/units.ts';
import { INSTRUMENTS } from '../../../core/instruments/instruments.ts';
import type { Score } from '../../../core/score/score.ts';
import type { MidiOut } from '../../input/midiOut.ts';
import type { Struck } from '../../input/struck.ts';
import type { PlayedElsewhere } from '../../sound/player.ts';
import { complain } from '../commands/messages.ts';
import { setSentTo } from '../commands/sending.ts';
import type { Desk } from '../desk.ts';
import type { SendSettings } from '../session.ts';
import { createSender } from './sender.ts';

/** What is heard of a page is sent to another instrument, if one was chosen. */
export interface Sending {
  /** Sends to this port from now on, or nowhere. What plays stops first. */
  readonly choose: (id: string | undefined) => Promise<void>;
  /** What is told of a page while it is heard; undefined while nothing is sent. */
  readonly of: (score: Pick<Score, 'parts'>) => PlayedElsewhere | undefined;
  /** Whether a strike is what was just sent to the same device, come back. */
  readonly isEcho: (struck: Struck) => boolean;
}

/** How late what was sent may come back and still be told from a strike (our choice). */
const ECHO: Seconds = 0.15;
/** By how much a timestamp may lie before the moment it was sent for. */
const EARLY: Seconds = 0.01;

/** The channel of each part, and what is set on each before the first note. */
const channelsOf = ({ parts }: Pick<Score, 'parts'>, { isOwn, channel, setsSounds }: SendSettings) => {
  const all = parts.map((part, i) => ({ part, channel: channelOf(i, channel, isOwn) }));
  return {
    channels: new Map(all.map(one => [one.part.id, one.channel])),
    sounds: (setsSounds ? all : []).slice(0, isOwn ? undefined : 1).map(one => ({
      channel: one.channel,
      program: INSTRUMENTS[one.part.instrument].program,
      volume: channelVolume(isOwn ? (one.part.balance ?? 0) : 0),
    })),
  };
};

/**
 * @param now on the clock of all input
 * @param stop whatever is playing
 */
export const createSending = (
  desk: Desk,
  out: Pick<MidiOut, 'choose' | 'send'>,
  now: () => Seconds,
  stop: () => void,
): Sending => {
  let sent: readonly { readonly pitch: number; readonly at: Seconds }[] = [];
  return {
    choose: async id => {
      stop();
      desk.run(setSentTo, undefined);
      const chosen = await out.choose(id);
      if (chosen.ok) desk.run(setSentTo, chosen.value);
      else desk.run(complain, chosen.problem);
    },
    of: score => {
      if (desk.sentTo.peek() === undefined) return undefined;
      const settings = desk.sends.peek();
      const send = (...[message, at]: Parameters<MidiOut['send']>): void => {
        const [status, pitch = 0] = message;
        if ((status & 0xf0) === 0x90)
          sent = [...sent.filter(one => one.at > now() - 2 * ECHO), { pitch, at: at ?? now() }];
        out.send(message, at);
      };
      return createSender(send, now, {
        ...channelsOf(score, settings),
        clock: settings.clock,
        isOnlyThere: () => desk.sentTo.peek() !== undefined && !desk.sends.peek().soundsHere,
      });
    },
    isEcho: ({ at, pitch, by }) => {
      if (by.source !== 'midi' || by.name !== desk.sentTo.peek()?.name) return false;
      const found = sent.find(one => one.pitch === pitch && at > one.at - EARLY && at < one.at + ECHO);
      sent = sent.filter(one => one !== found);
      return found !== undefined;
    },
  };
};
