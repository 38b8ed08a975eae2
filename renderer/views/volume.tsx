import type { ComponentChildren } from 'preact';
import { useApp } from '../desk/appContext.ts';
import { set } from '../desk/commands/settings.ts';
import { useFrameWords } from './parts/frameWords.ts';

/** The loudness of everything, at hand in every place. */
export const Volume = (): ComponentChildren => {
  const { desk } = useApp();
  const words = useFrameWords();
  return (
    <label class="volume" title={words.startLow}>
      <svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true">
        <path d="M3 9h4l6-5v16l-6-5H3z M16 8.5q3 3.5 0 7 M18.5 5.5q6 6.5 0 13" />
      </svg>
      <input
        type="range"
        aria-label={words.volume}
        min={-40}
        max={0}
        step={1}
        value={desk.volume.value}
        onInput={event => {
          desk.run(set, { volume: event.currentTarget.valueAsNumber });
        }}
      />
    </label>
  );
};
