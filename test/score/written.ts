import { add, type Fraction, fraction, parseFraction, times, ZERO } from '../../core/foundation/fraction.ts';
import { key, spell } from '../../core/foundation/key.ts';
import { type Metre, parseMetre } from '../../core/foundation/metre.ts';
import type { PlacedNote } from '../../core/plan/placed.ts';
import { barsNeeded, engravePart } from '../../core/score/engrave.ts';
import type { ScoreBar, ScoreSymbol, WrittenPitch } from '../../core/score/score.ts';

/**
 * A rhythm by its lengths in crotchets, "r" for rests: `line('4/4', '1/2 1 1/2 r1 1')`.
 */
export const line = (metreText: string, rhythm: string, upbeat: Fraction = ZERO): readonly ScoreBar[] => {
  const m = metreOf(metreText);
  let at: Fraction = times(upbeat, -1);
  const notes: PlacedNote[] = [];
  for (const word of rhythm.trim().split(/\s+/)) {
    const rest = word.startsWith('r');
    const crotchets = parseFraction(rest ? word.slice(1) : word);
    if (crotchets === undefined) throw new Error(`no length: ${word}`);
    const length = fraction(crotchets.n, crotchets.d * 4);
    if (!rest)
      notes.push({ onset: at, duration: length, pitch: spell(key('C'), 71), ref: String(notes.length) });
    at = add(at, length);
  }
  const bars = Math.max(barsNeeded(m, notes), Math.ceil((at.n * m.lower) / (at.d * m.upper)));
  return engravePart({ metre: m, key: key('C'), upbeat, bars }, notes);
};

export const metreOf = (text: string): Metre => {
  const m = parseMetre(text);
  if (m === undefined) throw new Error(`no metre: ${text}`);
  return m;
};

const LETTERS: Readonly<Record<number, string>> = {
  1: 'w',
  2: 'h',
  4: 'q',
  8: 'e',
  16: 's',
  32: 't',
  64: 'x',
};

const MARKS = { accent: '>', staccato: '*', tenuto: '_' } as const;
const SIGNS: Readonly<Record<string, string>> = { '-2': 'bb', '-1': 'b', '0': 'n', '1': '#', '2': 'x' };

const signOf = ({ accidental, cautionary }: WrittenPitch): string => {
  if (accidental === undefined) return '';
  const sign = SIGNS[String(accidental)] ?? '?';
  return cautionary === true ? `(${sign})` : sign;
};

const lineOf = ({ pitches }: ScoreSymbol): string =>
  pitches
    .map(
      p =>
        `${p.gliss === undefined ? '' : 'g'}${p.endsGliss === true ? ';' : ''}${p.smallEnd === undefined ? '' : `o${SIGNS[String(p.smallEnd.accidental)] ?? ''}`}`,
    )
    .join('');

/**
 * Bars as short text: value letters (w h q e s t), dots, `r` for rests, `~` tied on, `(` `)` round
 * tuplets with their number, `[` `]` round beams, `|` between bars; before a note `<mf>` a dynamic
 * and `'` each grace note; after it its accidental (`#`, `b`, `n`, in brackets a reminder) and `>`
 * accent, `*` staccato, `_` tenuto, `(` `)` a slur, `<` `>` a hairpin that begins and `.` one that ends, `P` and `U` the pedal down and up,
 * `^` a fermata, `z` a roll, `l` let ring, `d` a dead stroke, `g` a glissando, `;` the note it leads to and `o` the small
 * head where it ends on none, with its accidental.
 */
export const written = (bars: readonly ScoreBar[]): string =>
  bars
    .map(bar =>
      bar.symbols
        .map((symbol, i) => {
          if (symbol.wholeBar === true) return 'R';
          const group = bar.beams.find(g => g.includes(i));
          const open = group?.[0] === i ? '[' : '';
          const close = group?.at(-1) === i ? ']' : '';
          const before = bar.symbols[i - 1]?.tuplet;
          const after = bar.symbols[i + 1]?.tuplet;
          const tuplet = symbol.tuplet === undefined ? undefined : bar.tuplets[symbol.tuplet];
          const start = tuplet !== undefined && before !== symbol.tuplet ? `(${String(tuplet.actual)}:` : '';
          const stop = tuplet !== undefined && after !== symbol.tuplet ? ')' : '';
          const letter = LETTERS[symbol.value.base] ?? '?';
          const rest = symbol.pitches.length === 0 ? 'r' : '';
          const tie = symbol.tiedTo ? '~' : '';
          const loud = symbol.dynamic === undefined ? '' : `<${symbol.dynamic}>`;
          const grace = symbol.grace === undefined ? '' : `'`.repeat(1 + (symbol.ruff?.length ?? 0));
          const mark = symbol.articulation === undefined ? '' : MARKS[symbol.articulation];
          const signs = symbol.pitches.map(signOf).join('');
          const dots = '.'.repeat(symbol.value.dots);
          const slur = symbol.slur === undefined ? '' : symbol.slur === 'start' ? '(' : ')';
          const hairpin = symbol.hairpin === undefined ? '' : symbol.hairpin === 'crescendo' ? '<' : '>';
          const phrase = `${slur}${hairpin}${symbol.hairpinEnds === true ? '.' : ''}${symbol.pedal === true ? 'P' : ''}${symbol.pedalEnds === true ? 'U' : ''}${symbol.fermata === true ? '^' : ''}${symbol.roll === true ? 'z' : ''}${symbol.ring === true ? 'l' : ''}${symbol.dead === true ? 'd' : ''}${lineOf(symbol)}`;
          return `${start}${open}${loud}${grace}${rest}${letter}${dots}${signs}${mark}${phrase}${tie}${close}${stop}`;
        })
        .join(' '),
    )
    .join(' | ');
