import type { ComponentChildren } from 'preact';
import type { Phrase } from '../../../core/take/memory.ts';
import { useApp } from '../../desk/appContext.ts';
import { choosePhrase, phrasesIn } from '../../desk/commands/playing.ts';
import { useCaught } from './useCaught.ts';
import { useNow } from './useNow.ts';

const ago = (seconds: number): string =>
  seconds < 90
    ? `${String(Math.max(1, Math.round(seconds)))} s ago`
    : `${String(Math.round(seconds / 60))} min ago`;

const strikesOf = ({ strikes }: Phrase): string =>
  `${String(strikes.length)} ${strikes.length === 1 ? 'strike' : 'strikes'}`;

/** The phrases of the last five minutes, newest first: each can be pressed to be heard and caught. */
export const PhraseList = (): ComponentChildren => {
  const { desk } = useApp();
  const now = useNow(1000);
  const memory = desk.memory.value;
  const all = phrasesIn(memory, now, desk.session.value);
  const wanted = useCaught(now);
  if (all.length === 0) return null;
  const isWanted = (phrase: Phrase): boolean => wanted.some(one => one.from === phrase.from);
  return (
    <div class="phrase-list" role="group" aria-label="Phrases of the last five minutes">
      {[...all].reverse().map(phrase => (
        <button
          key={phrase.from}
          class="phrase-chip"
          aria-pressed={isWanted(phrase)}
          onClick={() => {
            desk.run(choosePhrase, phrase);
          }}
        >
          <b>{strikesOf(phrase)}</b>
          {phrase.along ? ' played along,' : ''} <span>{ago(now - phrase.to)}</span>
        </button>
      ))}
    </div>
  );
};
