import { add, type Fraction, fraction, parseFraction, times, ZERO } from '../../core/foundation/fraction.ts';
import { barringOf, barsUpTo } from '../../core/foundation/barring.ts';
import { type Key, key, toScaleAs } from '../../core/foundation/key.ts';
import type { Spelled, Letter } from '../../core/foundation/pitch.ts';
import { barsBetween } from '../../core/motif/glissando.ts';
import type { Dynamic } from '../../core/plan/dynamics.ts';
import { INSTRUMENTS, type InstrumentId } from '../../core/instruments/instruments.ts';
import type { PlacedNote } from '../../core/plan/placed.ts';
import { clefFor, engravePart } from '../../core/score/engrave.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import type { Score } from '../../core/score/score.ts';
import type { PageOptions } from '../../renderer/page/options.ts';
import { metreOf } from '../score/written.ts';

/** One thing the page must get right, and the rule it shows. */
export interface Situation {
  readonly id: string;
  readonly name: string;
  readonly metre: string;
  /**
   * Words apart by spaces: `[{dynamic}][(grace)][pitch:]length[mark]`, lengths in crotchets, `r` for
   * rests, `+` between the pitches of a chord, `,` between grace notes, marks `>` `*` `_`; no pitch means the one before.
   * After the mark, `^` holds the note, `z` rolls it, `l` lets it ring, `d` strikes it dead, and `~<`, `~>` begin and `~.` end a hairpin, `~_` and `~*` put a pedal down and up, `~(` and `~)` a slur; last `=C6` draws a glissando there, of a chord from its first pitch.
   * Parts are parted by `/ `.
   */
  readonly notes: string;
  /** What must be written, in the shorthand of test/score/written.ts; parts parted by ` / `. */
  readonly written: string;
  /** The rule, and where it is published. */
  readonly rule: string;
  readonly source: string;
  readonly key?: Key;
  readonly upbeat?: string;
  readonly instruments?: readonly InstrumentId[];
  readonly score?: Partial<
    Pick<Score, 'letters' | 'keys' | 'metres' | 'tempi' | 'slowings' | 'swing' | 'tempo' | 'brackets'>
  >;
  readonly repeats?: boolean;
  /** Over the first note of each part. */
  readonly words?: string;
  /** Drawn as a player's part, with long rests. */
  readonly longRests?: boolean;
  readonly options?: Partial<PageOptions>;
}

export const BERKLEE = "Berklee's notation guides";
export const COMMON = 'common practice, no source';

const SIGN: Readonly<Record<string, number>> = { bb: -2, b: -1, '': 0, '#': 1, x: 2 };

const pitchOf = (word: string): Spelled => {
  const found = /^([A-G])(bb|b|#|x)?(\d)$/.exec(word);
  if (found === null) throw new Error(`no pitch: ${word}`);
  return { letter: found[1] as Letter, alter: SIGN[found[2] ?? ''] ?? 0, octave: Number(found[3]) };
};

/** Over the bars of C major between. */
const drawnFrom = (from: Spelled, to: Spelled): NonNullable<PlacedNote['gliss']> => {
  const c = key('C');
  return { to, between: barsBetween(c, toScaleAs(c, from), { to: toScaleAs(c, to) }) };
};

const lengthOf = (text: string): Fraction => {
  const crotchets = parseFraction(text);
  if (crotchets === undefined) throw new Error(`no length: ${text}`);
  return fraction(crotchets.n, crotchets.d * 4);
};

const WORD =
  /^(?:\{(\w+)\})?(?:\(([^)]+)\))?(?:([A-G][^:]*):)?(r?)([\d/]+)([>*_]?)(\^?)([zld]?)((?:~[<>.()_*])*)(?:=([A-G][#bx]*\d))?$/;
const MARK = { '>': 'accent', '*': 'staccato', _: 'tenuto' } as const;

/** Notes of one part from the shorthand, and where the last word ends. */
const notesFrom = (text: string, start: Fraction, words?: string): { notes: PlacedNote[]; end: Fraction } => {
  let at = start;
  let pitches: readonly Spelled[] = [pitchOf('B4')];
  const notes: PlacedNote[] = [];
  for (const word of text.trim().split(/\s+/)) {
    const found = WORD.exec(word);
    if (found === null) throw new Error(`cannot be read: ${word}`);
    const [, dynamic, grace, names, rest, length, mark, held, rolled, phrase = '', drawn] = found;
    if (names !== undefined) pitches = names.split('+').map(pitchOf);
    const lasting = lengthOf(length ?? '');
    if (rest === '') {
      pitches.forEach((pitch, k) => {
        const first = k === 0;
        notes.push({
          onset: at,
          duration: lasting,
          pitch,
          ref: String(notes.length),
          ...(first && grace !== undefined ? { grace: pitchOf(grace.split(',').at(-1) ?? grace) } : {}),
          ...(first && grace?.includes(',') === true
            ? { ruff: grace.split(',').slice(0, -1).map(pitchOf) }
            : {}),
          ...(first && dynamic !== undefined ? { dynamic: dynamic as Dynamic } : {}),
          ...(mark === '' || mark === undefined ? {} : { articulation: MARK[mark as keyof typeof MARK] }),
          ...(rolled === 'z' ? { roll: true } : {}),
          ...(rolled === 'l' ? { ring: true } : {}),
          ...(rolled === 'd' ? { dead: true } : {}),
          ...(first && drawn !== undefined ? { gliss: drawnFrom(pitch, pitchOf(drawn)) } : {}),
          ...(held === '^' ? { fermata: true } : {}),
          ...(phrase.includes('<') ? { hairpin: 'crescendo' } : {}),
          ...(phrase.includes('>') ? { hairpin: 'diminuendo' } : {}),
          ...(phrase.includes('.') ? { hairpinEnds: true } : {}),
          ...(phrase.includes('_') ? { pedal: true } : {}),
          ...(phrase.includes('*') ? { pedalEnds: true } : {}),
          ...(phrase.includes('(') ? { slur: 'start' } : phrase.includes(')') ? { slur: 'stop' } : {}),
          ...(notes.length === 0 && words !== undefined ? { words } : {}),
        });
      });
    }
    at = add(at, lasting);
  }
  return { notes, end: at };
};

/** The score of a situation. */
export const scoreOf = (s: Situation): Score => {
  const m = metreOf(s.metre);
  const k = s.key ?? key('C');
  const upbeat = s.upbeat === undefined ? ZERO : lengthOf(s.upbeat);
  const parts = s.notes.split(' / ').map(text => notesFrom(text, times(upbeat, -1), s.words));
  const before = upbeat.n > 0 ? 1 : 0;
  const metres = s.score?.metres ?? [];
  const barring = barringOf(
    m,
    metres.map(change => ({ ...change, bar: change.bar - before })),
  );
  const metred = metres.length === 0 ? {} : { metres };
  const bars = Math.max(
    1,
    ...parts.flatMap(p =>
      [p.end, ...p.notes.map(n => add(n.onset, n.duration))].map(end => barsUpTo(barring, end)),
    ),
  );
  const keyed = s.score?.keys === undefined ? {} : { keys: s.score.keys };
  const written: Score = {
    title: s.name,
    codeName: '',
    metre: m,
    key: k,
    tempo: 96,
    upbeat,
    barCount: bars + before,
    letters: [],
    brackets: [],
    ...s.score,
    parts: parts.map(({ notes }, i) => {
      const instrument = s.instruments?.[i] ?? 'xylophone';
      return {
        id: `p${String(i + 1)}`,
        name: INSTRUMENTS[instrument].name,
        short: INSTRUMENTS[instrument].short,
        instrument,
        clef: clefFor(notes, instrument),
        bars: engravePart({ metre: m, ...metred, key: k, ...keyed, upbeat, bars }, notes),
      };
    }),
  };
  return s.repeats === true ? withRepeatBars(written) : written;
};

/** How the gallery and its pictures draw a situation. */
export const optionsOf = (s: Situation): PageOptions => ({
  width: 640,
  scale: 1,
  above: 0,
  below: 0,
  names: (s.instruments?.length ?? 1) > 1,
  tempo: s.score?.tempi !== undefined || s.score?.swing !== undefined || s.score?.tempo !== undefined,
  ...s.options,
});
