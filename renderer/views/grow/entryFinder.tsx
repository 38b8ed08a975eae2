import type { ComponentChildren } from 'preact';
import { useMemo, useRef, useState } from 'preact/hooks';
import {
  add,
  compare,
  divide,
  equal,
  floor,
  type Fraction,
  show,
  subtract,
  ZERO,
} from '../../../core/foundation/fraction.ts';
import { scaleSize } from '../../../core/foundation/key.ts';
import { isCompound, tactus } from '../../../core/foundation/metre.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import { type Entry, type EntryChange, entryTreatments, entriesFor } from '../../../core/entries/entries.ts';
import { metreAtPlace } from '../../../core/foundation/barring.ts';
import { barringIn } from '../../../core/plan/keys.ts';
import { delayWords } from '../../../core/plan/delayWords.ts';
import { stepsApart } from '../../../core/plan/intervals.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import type { Statement } from '../../../core/plan/statement.ts';
import { useApp } from '../../desk/appContext.ts';
import { isPart, targetChoices } from '../../desk/commands/targets.ts';
import { leaveTrial, tryStep } from '../../desk/commands/trial.ts';
import { SentenceChoice } from '../parts/sentence.tsx';
import { Taken } from './taken.tsx';

const CHANGES: readonly { readonly value: EntryChange; readonly text: string }[] = [
  { value: 'plain', text: 'as it is' },
  { value: 'augmented', text: 'twice as slow' },
  { value: 'diminished', text: 'twice as fast' },
  { value: 'inverted', text: 'upside down' },
];

/** Radius of a dot, in CSS pixels: the smoother, the larger. */
const radiusOf = (score: number): number => 2.5 + 6.5 * Math.max(0, (score + 0.4) / 1.4);

const heightWord = (motif: Motif, steps: number): string => stepsApart(steps, scaleSize(motif.key));

const delayWord = (motif: Motif, delay: Fraction): string =>
  delay.n === 0 ? 'at once' : `${delayWords(motif.metre, ZERO, delay)} later`;

/** The head of a column: beats, with what lies between them as a fraction. */
const columnHead = (motif: Motif, delay: Fraction): string => {
  if (delay.n === 0) return 'now';
  const beats = divide(delay, tactus(motif.metre));
  const whole = floor(beats);
  const rest = subtract(beats, { n: whole, d: 1 });
  return rest.n === 0 ? String(whole) : `${whole === 0 ? '' : `${String(whole)} `}${show(rest)}`;
};

const inThrees = (motif: Motif): boolean => isCompound(motif.metre) && motif.metre.lower === 8;

/** One entry on the map: a dot, larger the smoother it sounds, crossed where it clashes on a beat. */
const Dot = (props: { entry: Entry }): ComponentChildren => {
  const { entry } = props;
  if (entry.together === 0) return <svg class="dot" viewBox="-12 -12 24 24" aria-hidden="true" />;
  const r = radiusOf(entry.score);
  const clashes = entry.clashes.length > 0;
  return (
    <svg class="dot" viewBox="-12 -12 24 24" aria-hidden="true">
      <circle r={r} class={clashes ? 'rough' : 'smooth'} />
      {clashes ? (
        <path d={`M ${String(-r)} ${String(r)} L ${String(r)} ${String(-r)}`} class="cross" />
      ) : null}
    </svg>
  );
};

/**
 * The entry finder: for a second part, every delay by every interval, drawn as a map of how it sounds
 * against what is there. A press puts it on the page and plays it; the choice stays the pupil's.
 */
export const EntryFinder = (props: {
  motif: Motif;
  plan: Plan;
  statement: Statement;
  hearPreview: () => void;
  onClose: () => void;
}): ComponentChildren => {
  const { desk } = useApp();
  const { motif, plan, statement } = props;
  const local = { ...motif, metre: metreAtPlace(barringIn(motif, plan), statement.onset).metre };
  const [change, setChange] = useState<EntryChange>('plain');
  const [halves, setHalves] = useState(false);
  const choices = targetChoices(plan).filter(c => !isPart(c, statement.part));
  const [wanted, setWanted] = useState('');
  const [looked, setLooked] = useState<Entry | undefined>(undefined);
  const [at, setAt] = useState({ row: 7, column: 1 });
  const map = useRef<HTMLTableElement>(null);
  const into = choices.find(c => c.value === wanted) ?? choices[0];
  const part = into !== undefined && 'part' in into.target ? into.target.part : undefined;
  const instrument = into?.instrument ?? 'xylophone';
  const entries = useMemo(
    () => entriesFor(motif, plan, statement, instrument, part, { halves, changes: [change] }),
    [motif, plan, statement, instrument, part, halves, change],
  );
  const delays = useMemo(() => {
    const all: Fraction[] = [];
    for (const e of entries) if (!all.some(d => equal(d, e.delay))) all.push(e.delay);
    return all.sort(compare);
  }, [entries]);
  const rows = Array.from({ length: 15 }, (_, i) => 7 - i);
  const byPlace = new Map(entries.map(e => [`${show(e.delay)} ${String(e.steps)}`, e]));
  const tried = desk.trial.value !== undefined;

  const listen = (entry: Entry): void => {
    setLooked(entry);
    if (into === undefined) return;
    const name = `${heightWord(motif, entry.steps)}, ${delayWord(local, entry.delay)}`;
    const made = {
      kind: 'state',
      statement: statement.id,
      treatments: entryTreatments(entry),
      to: into.target,
      onset: add(statement.onset, entry.delay),
      times: 1,
    } as const;
    desk.run(tryStep, `entry ${name}`, made);
    if (desk.trial.peek() !== undefined) props.hearPreview();
  };
  const walk = (event: KeyboardEvent): void => {
    const by: Readonly<Record<string, readonly [number, number]>> = {
      ArrowUp: [-1, 0],
      ArrowDown: [1, 0],
      ArrowLeft: [0, -1],
      ArrowRight: [0, 1],
    };
    const move = by[event.key];
    if (move === undefined || event.altKey) return;
    event.preventDefault();
    event.stopPropagation();
    const row = Math.min(rows.length - 1, Math.max(0, at.row + move[0]));
    const column = Math.min(delays.length - 1, Math.max(0, at.column + move[1]));
    setAt({ row, column });
    map.current?.querySelector<HTMLElement>(`[data-at="${String(row)} ${String(column)}"]`)?.focus();
  };

  return (
    <div class="entry-finder" role="group" aria-label="Entry finder">
      <h2>Entry finder</h2>
      <p class="sentences small">
        <SentenceChoice
          before="Where could"
          value={into?.value ?? ''}
          choices={choices}
          onChoose={setWanted}
        />
        <SentenceChoice
          before="come in with this idea,"
          value={change}
          choices={CHANGES.map(c => ({ value: c.value, text: c.text }))}
          after="?"
          onChoose={value => {
            setChange(value as EntryChange);
          }}
        />
        <SentenceChoice
          before="Looking at"
          value={halves ? 'halves' : 'beats'}
          choices={[
            { value: 'beats', text: 'every beat' },
            { value: 'halves', text: inThrees(local) ? 'every quaver' : 'every half beat' },
          ]}
          onChoose={value => {
            setHalves(value === 'halves');
          }}
        />
      </p>
      <div class="entry-map">
        <table
          ref={map}
          onKeyDown={walk}
          aria-label="Entries: rows are steps up or down, columns are beats later"
        >
          <thead>
            <tr>
              <td />
              {delays.map((delay, column) => (
                <th key={column} scope="col">
                  {columnHead(local, delay)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((steps, row) => (
              <tr key={steps}>
                <th scope="row">
                  {steps > 0 ? `+${String(steps)}` : steps < 0 ? `−${String(-steps)}` : '0'}
                </th>
                {delays.map((delay, column) => {
                  const entry = byPlace.get(`${show(delay)} ${String(steps)}`);
                  if (entry === undefined) return <td key={column} />;
                  const words = `${heightWord(motif, steps)}, ${delayWord(local, delay)}: ${entry.sentence}`;
                  return (
                    <td key={column}>
                      <button
                        class={`entry${looked === entry && tried ? ' chosen' : ''}`}
                        data-at={`${String(row)} ${String(column)}`}
                        tabIndex={row === at.row && column === at.column ? 0 : -1}
                        aria-label={words}
                        onFocus={() => {
                          setAt({ row, column });
                          setLooked(entry);
                        }}
                        onPointerEnter={() => {
                          if (!tried) setLooked(entry);
                        }}
                        onClick={() => {
                          listen(entry);
                        }}
                      >
                        <Dot entry={entry} />
                      </button>
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p class="quiet entry-key">
        Up the page: steps up. To the right: beats later. The larger the dot, the smoother; crossed: it
        clashes on a beat.
      </p>
      <p class="entry-words" aria-live="polite">
        {looked === undefined
          ? 'Touch a dot to hear it.'
          : `${heightWord(motif, looked.steps)}, ${delayWord(local, looked.delay)}: ${looked.sentence}.`}
      </p>
      <Taken hearPreview={props.hearPreview} />
      <div class="treatment-answer">
        <button
          class="second"
          onClick={() => {
            desk.run(leaveTrial);
            props.onClose();
          }}
        >
          Back to the cards
        </button>
      </div>
    </div>
  );
};
