import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import {
  fullScale,
  type Key,
  keyName,
  type Mode,
  MODE_NAMES,
  writable,
  writableTonics,
} from '../../../core/foundation/key.ts';
import { letterName } from '../../../core/foundation/pitch.ts';
import { PERHAPS, suggestKeys } from '../../../core/motif/suggestKey.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import type { Reading } from '../../../core/reading/model/reading.ts';
import { useApp } from '../../desk/appContext.ts';
import { step } from '../../desk/commands/step.ts';
import { SentenceChoice } from '../parts/sentence.tsx';

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
  const tonics = writableTonics(piece.key.mode);
  const [open, setOpen] = useState(false);
  const suggested = suggestKeys(
    reading.notes.map(n => ({ pitch: n.pitch, weight: n.duration.n / n.duration.d })),
  );
  // Five notes may be meant as five of seven: the full scale is offered beside them.
  const keys = suggested
    .flatMap(s => [s.key, fullScale(s.key)])
    .filter((k, i, all) => all.findIndex(other => keyName(other) === keyName(k)) === i);
  const name = keyName(piece.key);
  const all = keys.some(k => keyName(k) === name) ? keys : [piece.key, ...keys];
  const before = piece.keyChosen ? 'Key:' : `Key, ${sureWord(suggested[0]?.sure ?? 0)}:`;
  if (open) {
    return (
      <span class="sentence-group">
        <SentenceChoice
          before="Key:"
          value={letterName(piece.key.tonic)}
          choices={tonics.map(t => ({ value: letterName(t), text: letterName(t) }))}
          onChoose={letter => {
            const tonic = tonics.find(t => letterName(t) === letter);
            if (tonic !== undefined) choose({ ...piece.key, tonic });
          }}
        />
        <SentenceChoice
          before=""
          value={piece.key.mode}
          choices={MODE_NAMES.map(mode => ({ value: mode, text: mode }))}
          onChoose={mode => {
            choose(writable({ ...piece.key, mode: mode as Mode }));
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
