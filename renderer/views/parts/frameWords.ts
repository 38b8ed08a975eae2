import { createContext } from 'preact';
import { useContext } from 'preact/hooks';

/** What stands on the frame of every place: the pupil view may say it in another language. */
export interface FrameWords {
  readonly hear: string;
  readonly stop: string;
  /** What Escape is called on a keyboard. */
  readonly escape: string;
  readonly volume: string;
  readonly startLow: string;
  readonly safe: string;
  readonly beingMadeSafe: string;
  readonly notSafe: string;
  readonly keptByItself: string;
  readonly diskFull: string;
  readonly listening: string;
  readonly stopListening: string;
  readonly allRight: string;
  /** Where a long page is going to be. */
  readonly writingOut: string;
  /** Whether what was just done is named: steps have their names in English alone. */
  readonly namesSteps: boolean;
}

export const FRAME_WORDS: FrameWords = {
  hear: 'Hear',
  stop: 'Stop',
  escape: 'Escape',
  volume: 'Volume',
  startLow: 'Start low: loud headphones hurt ears for good. A limiter stays on.',
  safe: 'safe, a moment ago',
  beingMadeSafe: 'being made safe',
  notSafe: 'not safe',
  keptByItself: 'Everything done here is kept by itself',
  diskFull: 'The disk takes nothing more',
  listening: 'Listening',
  stopListening: 'Listening to the room: stop',
  allRight: 'All right',
  writingOut: 'Writing out the page…',
  namesSteps: true,
};

/** The words of the frame that is round a place. */
export const FrameWordsContext = createContext(FRAME_WORDS);
export const useFrameWords = (): FrameWords => useContext(FrameWordsContext);
