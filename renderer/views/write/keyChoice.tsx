import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { fullScale, type Key, keyName } from '../../../core/foundation/key.ts';
import { PERHAPS, suggestKeys } from '../../../core/motif/suggestKey.ts';
import { type Piece, weighed } from '../../../core/piece/piece.ts';
import type { Reading } from '../../../core/reading/model/reading.ts';
import { useApp } from '../../desk/appContext.ts';
import { step } from '../../desk/commands/step.ts';
import { KeyWords } from '../parts/keyWords.tsx';
import { SentenceChoice } from '../parts/sentence.tsx';
import { HELP } from '../help/helpWords.ts';

/** How sure a suggestion is, in a word. */
const sureWord = (sure: number): string =>
  sure > 0.9 ? 'almost surely' : sure > PERHAPS ? 'probably' : 'perhaps';

/** The key: suggested from the pitches, with a word on how sure; the teacher decides, any key and mode. */
export const KeyChoice = (props: { piece: Piece; reading: Reading }): ComponentChildren => {
  const { desk } = useApp();
  const { piece, reading } = props;
  const choose = (key: Key): void => {
    desk.run(step, `key ${keyName(key)}`, old => ({ ...old, key, keyChosen: true }));
  };
  const [open, setOpen] = useState(false);
  const suggested = suggestKeys(weighed(reading), desk.keyEvidence.value);
  // Five notes may be meant as five of seven: the full scale is offered beside them.
  const keys = suggested
    .flatMap(s => [s.key, fullScale(s.key)])
    .filter((k, i, all) => all.findIndex(other => keyName(other) === keyName(k)) === i);
  const name = keyName(piece.key);
  const all = keys.some(k => keyName(k) === name) ? keys : [piece.key, ...keys];
  // Of the key that is written, which need not be the likeliest as things now are.
  const sure = suggested.find(s => keyName(s.key) === name)?.sure ?? 0;
  const before = piece.keyChosen ? 'Key:' : `Key, ${sureWord(sure)}:`;
  if (open) {
    return (
      <span class="sentence-group">
        <KeyWords
          before="Key:"
          value={piece.key}
          onChoose={chosen => {
            if (chosen !== undefined) choose(chosen);
          }}
        />
        <button
          class="plain word"
          onClick={() => {
            setOpen(false);
          }}
        >
          done
        </button>
      </span>
    );
  }
  return (
    <SentenceChoice
      before={before}
      help={HELP.key}
      value={name}
      choices={[
        ...all.map(k => ({ value: keyName(k), text: keyName(k) })),
        { value: 'other', text: 'another key…' },
      ]}
      onChoose={value => {
        const chosen = all.find(k => keyName(k) === value);
        if (chosen === undefined) setOpen(true);
        else choose(chosen);
      }}
    />
  );
};
