import type { ComponentChildren } from 'preact';
import { fraction, toNumber } from '../../../../core/foundation/fraction.ts';
import { spell } from '../../../../core/foundation/key.ts';
import { pitchName } from '../../../../core/foundation/pitch.ts';
import { placeWords } from '../../../../core/piece/positionWords.ts';
import type { Noticed } from '../../../../core/rehearse/notice.ts';
import type { RehearsedPart, WhatWasPlayed } from '../../../../core/rehearse/result.ts';
import type { Score } from '../../../../core/score/score.ts';
import { NOTICED_NAME, NoticedShape } from './noticedShape.tsx';

/** Finest place of a written note that is told in words, and of a blow beside it, as parts of a semibreve. */
const FINEST = 48;
const NEAR = 8;
/** As many lines as are read at once; the page shows the rest. */
const MOST = 8;

/** What is told, in this order. */
const KINDS: readonly Noticed['kind'][] = [
  'in place',
  'early',
  'late',
  'left out',
  'cut short',
  'other bar',
  'added',
];

/** One thing to mend in words: where, which bar, what. */
const line = (score: Score, one: RehearsedPart['noticed'][number]): string => {
  const finest = one.kind === 'added' ? NEAR : FINEST;
  const where = placeWords(score, fraction(Math.round(one.place * finest), finest));
  const name = (pitch: number): string => pitchName(spell(score.key, pitch));
  if (one.kind === 'added') return `${where}: ${name(one.played.pitch)} more than written`;
  if (one.kind === 'other bar')
    return `${where}: ${name(one.played.pitch)} struck for ${name(one.written.pitch)}`;
  if (one.kind === 'cut short') return `${where}: ${NOTICED_NAME[one.kind]} from ${name(one.written.pitch)}`;
  return `${where}: ${name(one.written.pitch)} ${NOTICED_NAME[one.kind]}`;
};

/** The shapes that stand on the page, each with its word; only those that are there. */
export const NoticedLegend = (props: { playing: WhatWasPlayed }): ComponentChildren => {
  const there = KINDS.filter(kind =>
    props.playing.parts.some(part => part.strikes.length > 0 && part.noticed.some(one => one.kind === kind)),
  );
  return (
    <ul class="noticed-legend" aria-label="Signs under the notes">
      {there.map(kind => (
        <li key={kind}>
          <svg width="20" height="18" aria-hidden="true" class="noticed">
            <NoticedShape kind={kind} x={10} y={9} />
          </svg>
          {NOTICED_NAME[kind]}
        </li>
      ))}
    </ul>
  );
};

/** What there is to mend in one bar of a part, a line each: more at once helps nobody. */
export const NoticedLines = (props: {
  score: Score;
  part: RehearsedPart;
  bar: number;
}): ComponentChildren => {
  const bar = props.score.parts[0]?.bars[props.bar];
  const from = bar === undefined ? 0 : toNumber(bar.start);
  const to = bar === undefined ? 0 : from + toNumber(bar.length);
  const toMend = props.part.noticed.filter(
    one => one.kind !== 'in place' && one.place > from - 1e-6 && one.place < to - 1e-6,
  );
  if (toMend.length === 0 || props.part.strikes.length === 0) return null;
  return (
    <ul class="noticed-lines">
      {toMend.slice(0, MOST).map((one, i) => (
        <li key={i}>{line(props.score, one)}</li>
      ))}
      {toMend.length > MOST ? <li>and more, on the page</li> : null}
    </ul>
  );
};
