import type { Seconds } from '../../../core/foundation/units.ts';

/** When the app itself sounds through a loudspeaker: what a microphone hears then is not the room's. */
export interface OwnSound {
  /** Something begins to play, or ends. */
  readonly plays: (isPlaying: boolean, at: Seconds) => void;
  /** A bar sounds that was struck on the screen, a key or a pad. */
  readonly strikes: (at: Seconds) => void;
  /** Whether the app may be heard at a moment of the last seconds. */
  readonly soundsAt: (at: Seconds) => boolean;
}

/** Seconds that the room, and a slow loudspeaker, go on after the app has fallen silent. */
const RINGS_ON = 0.6;
/** Seconds from a strike on a pad to its sound in the room, at most, and what the clocks may be out by. */
const SOUNDS_WITHIN = 0.35;
const CLOCKS_OUT = 0.05;
/** What is older is asked for no more. */
const REMEMBERED = 10;

/** All times on the clock of input. */
export const createOwnSound = (): OwnSound => {
  let since: Seconds | undefined;
  let spans: readonly { readonly from: Seconds; readonly to: Seconds }[] = [];
  const add = (from: Seconds, to: Seconds): void => {
    spans = [...spans.filter(span => span.to > to - REMEMBERED), { from, to }];
  };
  return {
    plays: (isPlaying, at) => {
      if (isPlaying) since ??= at;
      else if (since !== undefined) {
        add(since, at + RINGS_ON);
        since = undefined;
      }
    },
    strikes: at => {
      add(at - CLOCKS_OUT, at + SOUNDS_WITHIN);
    },
    soundsAt: at =>
      (since !== undefined && at >= since) || spans.some(span => at >= span.from && at <= span.to),
  };
};
