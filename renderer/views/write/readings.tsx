import type { ComponentChildren } from 'preact';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { show } from '../../../core/foundation/fraction.ts';
import { sameMetre } from '../../../core/foundation/metre.ts';
import { restyled } from '../../../core/foundation/noteValue.ts';
import { corrected, openingOf, type Piece, readingScore } from '../../../core/piece/piece.ts';
import { pitchesKept } from '../../../core/piece/rhythmOnly.ts';
import { toldApart } from '../../../core/piece/toldApart.ts';
import type { Reading } from '../../../core/reading/model/reading.ts';
import { useApp } from '../../desk/appContext.ts';
import { chooseReading } from '../../desk/commands/reading.ts';
import { Incipit } from '../parts/incipit.tsx';

const sameNotes = (a: Reading, b: Reading): boolean =>
  a.reason === b.reason && JSON.stringify(a.notes) === JSON.stringify(b.notes);

const WALK: Readonly<Record<string, number>> = { ArrowDown: 1, ArrowUp: -1 };

/** Walking to a way to write it plays it. */
const walkTo = (choose: HTMLElement): void => {
  choose.focus();
  choose.closest('.reading')?.querySelector<HTMLElement>('.hear-reading')?.click();
};

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Strikes that this reading writes elsewhere, or longer or shorter, than the page does. */
const differing = (reading: Reading, page: Reading): readonly string[] => {
  if (!sameMetre(reading.metre, page.metre)) return [];
  const now = new Map(page.notes.map(n => [n.strike, `${show(n.onset)} ${show(n.duration)}`]));
  return reading.notes
    .filter(n => now.get(n.strike) !== `${show(n.onset)} ${show(n.duration)}`)
    .map(n => String(n.strike));
};

const percentWords = (confidence: number): string => {
  const percent = Math.round(confidence * 100);
  return percent === 0 ? 'under 1 %' : percent === 100 ? 'over 99 %' : `${String(percent)} %`;
};

/** How likely a reading is, in words; the figure is behind them. */
const likelihood = (confidence: number): string =>
  confidence >= 0.9
    ? 'almost surely'
    : confidence >= 0.5
      ? 'most likely'
      : confidence >= 0.15
        ? 'also possible'
        : 'less likely';

/** Readings less likely than this wait behind a button. */
const UNLIKELY = 0.02;

/** Bars of a reading that its short stave shows, where there is room. */
const OPENING = 2;

/** One reading as a short stave with its reason; pressing it writes the page that way. */
const Other = (props: {
  piece: Piece;
  page: Reading;
  reading: Reading;
  /** What sets it apart from the others. */
  words: string;
  index: number;
  chosen: boolean;
  /** Walked on beyond those that are shown. */
  onPast: (to: number) => void;
}): ComponentChildren => {
  const { desk, asking, listening } = useApp();
  const { piece, page, reading, index, chosen } = props;
  // As it would stand on the page.
  const written = useMemo(() => {
    const edits = pitchesKept(piece.edits, reading);
    return edits.length === 0 ? reading : corrected({ ...piece, reading, edits });
  }, [piece.edits, reading]);
  const opening = useMemo(() => openingOf(piece, OPENING, written), [piece.key, piece.instrument, written]);
  const marks = useMemo(() => (chosen ? [] : differing(reading, page)), [reading, page, chosen]);
  const reason = restyled(props.words, desk.nameStyle.value);
  const hear = (): void => {
    listening.score('reading', readingScore(piece, written));
  };
  return (
    <li class={`reading card${chosen ? ' chosen' : ''}`}>
      <button
        class="reading-choose"
        aria-pressed={chosen}
        onClick={() => {
          void asking.ask(chooseReading, reading, piece.hints);
        }}
        onKeyDown={event => {
          const to = WALK[event.key];
          if (to === undefined) return;
          event.preventDefault();
          const all = [...document.querySelectorAll<HTMLElement>('.reading-choose')];
          const next = all[index + to];
          if (next === undefined) props.onPast(index + to);
          else walkTo(next);
        }}
      >
        <span class="reading-head">
          <span class="ring-mark" aria-hidden="true" />
          <b>{capital(reason)}</b>
        </span>
        <span class="quiet reading-words" title={percentWords(reading.confidence)}>
          {likelihood(reading.confidence)}
          {chosen
            ? ', on the page now'
            : marks.length === 0
              ? ''
              : marks.length === 1
                ? ', one note unlike the page'
                : `, ${String(marks.length)} notes unlike the page`}
        </span>
        <Incipit
          score={opening}
          bars={OPENING}
          marks={marks}
          label={`Reading ${String(index + 1)}: ${reason}${marks.length === 0 ? '' : `; ${String(marks.length)} notes unlike the page`}`}
        />
      </button>
      <button class="round hear-reading" aria-label={`Hear reading ${String(index + 1)}`} onClick={hear}>
        <span aria-hidden="true">▶</span>
      </button>
    </li>
  );
};

/** A sign that the reader is at work, with a way to stop it. */
const ReaderAtWork = (): ComponentChildren => {
  const { desk, asking } = useApp();
  if (!desk.readerBusy.value) return null;
  return (
    <p class="at-work" role="status">
      <span class="quiet">Reading…</span>
      <button class="tool" onClick={asking.stop}>
        Stop reading
      </button>
    </p>
  );
};

/** Other ways to write it, best first. Walking through them with the arrows plays each. */
export const Readings = (props: { piece: Piece; page: Reading }): ComponentChildren => {
  const { desk } = useApp();
  const [showsAll, setShowsAll] = useState(false);
  const [walkedTo, setWalkedTo] = useState<number | undefined>(undefined);
  const list = useRef<HTMLOListElement>(null);
  useEffect(() => {
    const wanted = list.current?.querySelectorAll<HTMLElement>('.reading-choose')[walkedTo ?? -1];
    if (wanted === undefined) return;
    setWalkedTo(undefined);
    walkTo(wanted);
  }, [walkedTo, showsAll]);
  const all = desk.readings.value;
  const isOnPage = (reading: Reading): boolean => sameNotes(reading, props.piece.reading);
  const words = useMemo(() => toldApart(all), [all]);
  const likely = all.filter((one, i) => i === 0 || one.confidence >= UNLIKELY || isOnPage(one));
  const more = all.length - likely.length;
  return (
    <aside class="beside" aria-label="Ways to write it">
      <h2>Ways to write it, best first</h2>
      <ReaderAtWork />
      <ol class="readings" ref={list}>
        {(showsAll ? all : likely).map((reading, index) => (
          <Other
            key={index}
            piece={props.piece}
            page={props.page}
            reading={reading}
            words={words[all.indexOf(reading)] ?? reading.reason}
            index={index}
            chosen={isOnPage(reading)}
            onPast={to => {
              if (to < 0 || to >= all.length) return;
              setShowsAll(true);
              setWalkedTo(to);
            }}
          />
        ))}
      </ol>
      {more === 0 ? null : (
        <button
          class="second"
          aria-expanded={showsAll}
          onClick={() => {
            setShowsAll(!showsAll);
          }}
        >
          {showsAll ? 'Only the likely ways' : more === 1 ? 'One more way' : `${String(more)} more ways`}
        </button>
      )}
    </aside>
  );
};
