import type { ComponentChildren } from 'preact';
import { useApp } from '../../desk/appContext.ts';
import { useFrameWords } from './frameWords.ts';

/** In dB of full scale: nothing of the level is shown. */
const QUIETEST = -60;

/** Stands in every place while the microphone is open, with how loud it is; pressed, the microphone is let go of. */
export const ListeningSign = (): ComponentChildren => {
  const { desk, roomBars } = useApp();
  const words = useFrameWords();
  const ear = desk.roomEar.value;
  if (ear === undefined) return null;
  const through = ear.name === undefined || ear.name === '' ? 'the microphone' : ear.name;
  const share = Math.min(1, Math.max(0, 1 - (ear.sound?.level ?? QUIETEST) / QUIETEST));
  return (
    <button
      class="listening-sign"
      aria-label={words.stopListening}
      title={`Listening to the room through ${through}: press to stop`}
      onClick={roomBars.stop}
    >
      <span>
        <span class="listening-dot" aria-hidden="true">
          ●{' '}
        </span>
        {words.listening}
      </span>
      <svg class="room-level" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
        <rect class="room-level-all" width="100" height="6" />
        <rect class="room-level-now" width={100 * share} height="6" />
      </svg>
    </button>
  );
};
