import type { ComponentChildren } from 'preact';
import {
  type Key,
  key,
  type Mode,
  MODE_NAMES,
  writable,
  writableTonics,
} from '../../../core/foundation/key.ts';
import { letterName } from '../../../core/foundation/pitch.ts';
import { SentenceChoice } from './sentence.tsx';

/** Any key a page can hold, by tonic and mode; `any` says what stands there where no key is meant. */
export const KeyWords = (props: {
  before: string;
  value: Key | undefined;
  any?: string;
  onChoose: (chosen: Key | undefined) => void;
}): ComponentChildren => {
  const { value, any } = props;
  const tonics = writableTonics(value?.mode ?? 'major');
  return (
    <>
      <SentenceChoice
        before={props.before}
        value={value === undefined ? '' : letterName(value.tonic)}
        choices={[
          ...(any === undefined ? [] : [{ value: '', text: any }]),
          ...tonics.map(t => ({ value: letterName(t), text: letterName(t) })),
        ]}
        onChoose={letter => {
          const tonic = tonics.find(t => letterName(t) === letter);
          props.onChoose(tonic === undefined ? undefined : { ...(value ?? key('C')), tonic });
        }}
      />
      {value === undefined ? null : (
        <SentenceChoice
          before=""
          value={value.mode}
          choices={MODE_NAMES.map(mode => ({ value: mode, text: mode }))}
          onChoose={mode => {
            props.onChoose(writable({ ...value, mode: mode as Mode }));
          }}
        />
      )}
    </>
  );
};
