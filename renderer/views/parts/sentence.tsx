import type { ComponentChildren } from 'preact';
import { useTyping } from './typing.ts';

export interface Choice {
  readonly value: string;
  readonly text: string;
}

/**
 * A setting as a sentence whose underlined word is the control. The whole sentence is its label,
 * so that it reads the same by eye and by screen reader.
 */
export const SentenceChoice = (props: {
  before: string;
  after?: string;
  value: string;
  choices: readonly Choice[];
  /** What it means, shown beside it when somebody lingers. */
  help?: string;
  /** Long words go on on another line, where a select would cut them off. */
  wraps?: boolean;
  onChoose: (value: string) => void;
}): ComponentChildren => {
  const text = props.choices.find(c => c.value === props.value)?.text ?? props.value;
  const select = (
    <select
      class={props.wraps === true ? 'over-words' : 'blank'}
      aria-label={`${props.before} ${text}${props.after ?? ''}`.trim()}
      aria-description={props.help}
      value={props.value}
      onChange={event => {
        props.onChoose(event.currentTarget.value);
      }}
    >
      {props.choices.map(choice => (
        <option key={choice.value} value={choice.value} selected={choice.value === props.value}>
          {choice.text}
        </option>
      ))}
    </select>
  );
  return (
    <span class="sentence" data-help={props.help}>
      <span aria-hidden="true">{props.before} </span>
      {props.wraps === true ? (
        <span class="blank words">
          <span aria-hidden="true">{text}</span>
          {select}
        </span>
      ) : (
        select
      )}
      {props.after === undefined ? null : <span aria-hidden="true">{props.after}</span>}
    </span>
  );
};

/** A number in a sentence; out-of-range entries are brought back into range when the field is left. */
export const SentenceNumber = (props: {
  before: string;
  after?: string;
  value: number;
  least: number;
  most: number;
  step?: number;
  /** What it means, shown beside it when somebody lingers. */
  help?: string;
  onChoose: (value: number) => void;
}): ComponentChildren => {
  const typing = useTyping(String(props.value), typed => {
    const asked = typed.trim() === '' ? NaN : Number(typed);
    const value = Number.isFinite(asked) ? Math.min(props.most, Math.max(props.least, asked)) : props.value;
    if (value !== props.value) props.onChoose(value);
  });
  return (
    <span class="sentence" data-help={props.help}>
      <span aria-hidden="true">{props.before} </span>
      <input
        class="blank number"
        type="number"
        inputMode="numeric"
        aria-label={`${props.before}${props.after === undefined ? '' : ` … ${props.after}`}`}
        aria-description={props.help}
        min={props.least}
        max={props.most}
        step={props.step ?? 1}
        {...typing}
      />
      {props.after === undefined ? null : <span aria-hidden="true"> {props.after}</span>}
    </span>
  );
};
