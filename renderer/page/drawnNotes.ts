import {
  Accidental,
  Beam,
  Dot,
  GraceNote,
  GraceNoteGroup,
  ModifierContext,
  type Stave,
  StaveNote,
  TickContext,
  Tuplet,
} from 'vexflow/bravura';
import type { Spelled } from '../../core/foundation/pitch.ts';
import { hookSide, secondaryBreaks } from '../../core/score/beams.ts';
import type { ScoreBar, ScorePart, ScoreSymbol } from '../../core/score/score.ts';
import { slantOf } from './slant.ts';
import { rollStem, type StemDirection, stemDirections, stepsOf, tupletSide } from './stems.ts';

const DURATION: Readonly<Record<number, string>> = {
  1: 'w',
  2: 'h',
  4: 'q',
  8: '8',
  16: '16',
  32: '32',
  64: '64',
};
const SIGN: Readonly<Record<string, string>> = { '-2': 'bb', '-1': 'b', '0': 'n', '1': '#', '2': '##' };
const STEM = { up: 1, down: -1 } as const;

/** One bar of one part as VexFlow objects, which are mutable and never leave this folder. */
export interface DrawnBar {
  readonly bar: ScoreBar;
  readonly notes: readonly StaveNote[];
  readonly beams: readonly Beam[];
  readonly tuplets: readonly Tuplet[];
}

/** How thick lines are drawn: 1 for the usual stave, more in large print. */
export type Weight = number;

/** How far rests reach from the middle line, in stave steps (Bravura's `glyphBBoxes`, from memory). */
const REST_REACH: Readonly<Record<number, { readonly over: number; readonly under: number }>> = {
  4: { over: 3, under: 3 },
  8: { over: 1.4, under: 2 },
  16: { over: 1.4, under: 4 },
  32: { over: 3.4, under: 4 },
  64: { over: 3.4, under: 6 },
};
/** Steps of air between a rest and a beam. */
const CLEAR = 1;

/** A rest under a beam that would meet it moves away from it, by whole spaces. */
const restKey = (symbol: ScoreSymbol, bar: ScoreBar, part: ScorePart, index: number): string => {
  const middle = part.clef === 'bass' ? 'd/3' : 'b/4';
  const high = part.clef === 'bass' ? 'g/3' : 'e/5';
  const low = part.clef === 'bass' ? 'a/2' : 'f/4';
  if (symbol.value.base === 1) return part.clef === 'bass' ? 'f/3' : 'd/5';
  const group = bar.beams.find(g => (g[0] ?? 0) < index && index < (g.at(-1) ?? 0));
  if (group === undefined) return middle;
  const steps = group.flatMap(i => {
    const other = bar.symbols[i];
    return other === undefined ? [] : stepsOf(other, part.clef);
  });
  const direction = stemDirections(bar, part.clef)[group[0] ?? 0];
  // The inner edge of the beams: each further one takes a space and a half of a step.
  const levels = Math.max(...group.map(i => Math.log2(bar.symbols[i]?.value.base ?? 8) - 2));
  const reach = 7 - 1.5 * levels;
  const rest = REST_REACH[symbol.value.base] ?? { over: 3, under: 3 };
  if (direction === 'up') return Math.max(...steps) + reach < rest.over + CLEAR ? low : middle;
  return Math.min(...steps) - reach > -rest.under - CLEAR ? high : middle;
};

const keyName = (spelled: Spelled): string => `${spelled.letter.toLowerCase()}/${String(spelled.octave)}`;

const graceGroup = (symbol: ScoreSymbol, part: ScorePart): GraceNoteGroup | undefined => {
  if (symbol.grace === undefined) return undefined;
  const strokes = [...(symbol.ruff ?? []).map(grace => [grace]), symbol.grace];
  const isOne = strokes.length === 1;
  const notes = strokes.map((stroke, k) => {
    const note = new GraceNote({
      keys: stroke.map(keyName),
      duration: isOne ? '8' : '16',
      clef: part.clef,
      // Those of a drag or a ruff have a beam, with the stroke at its beginning (common practice, no source).
      slash: k === 0,
      stemDirection: STEM.up,
    });
    stroke.forEach(({ accidental }, i) => {
      if (accidental !== undefined) note.addModifier(new Accidental(SIGN[String(accidental)] ?? 'n'), i);
    });
    return note;
  });
  // Its slur is ours (graceSlur.ts): the library's runs through the stem of the note.
  const group = new GraceNoteGroup(notes, false);
  return isOne ? group : group.beamNotes();
};

const toStaveNote = (
  bar: ScoreBar,
  index: number,
  symbol: ScoreSymbol,
  part: ScorePart,
  direction: StemDirection | undefined,
  weight: Weight,
): StaveNote => {
  const rest = symbol.pitches.length === 0;
  const note = new StaveNote({
    keys: rest ? [restKey(symbol, bar, part, index)] : symbol.pitches.map(p => keyName(p.spelled)),
    duration: `${DURATION[symbol.value.base] ?? 'q'}${rest ? 'r' : ''}`,
    dots: symbol.value.dots,
    clef: part.clef,
    ...(direction === undefined ? {} : { stemDirection: STEM[direction] }),
  });
  note.setLedgerLineStyle({ strokeStyle: 'black', lineWidth: 1.6 * weight });
  for (let i = 0; i < symbol.value.dots; i++) Dot.buildAndAttach([note], { all: true });
  symbol.pitches.forEach(({ accidental, cautionary }, i) => {
    if (accidental === undefined) return;
    const sign = new Accidental(SIGN[String(accidental)] ?? 'n');
    note.addModifier(sign, i);
    if (cautionary === true) bracketed(sign);
  });
  const longer = rollStem(bar, index);
  if (longer > 0) note.getStem()?.setExtension(note.getStemExtension() + longer);
  const grace = graceGroup(symbol, part);
  if (grace !== undefined) note.addModifier(grace, 0);
  return note;
};

/** A reminder in brackets, a little smaller, with air inside them (VexFlow's own brackets cut into the sign). */
const bracketed = (sign: Accidental): void => {
  const hair = '\u200a';
  sign.setFontSize(26);
  sign.setText(`\ue26a${hair}${sign.getText()}${hair}\ue26b`);
};

/** A beam slants only where no inner note reaches as far towards it as the outer ones (common practice, no source). */
const liesFlat = (bar: ScoreBar, group: readonly number[], part: ScorePart): boolean => {
  const up = stemDirections(bar, part.clef)[group[0] ?? 0] === 'up';
  const reach = group.map(i => {
    const symbol = bar.symbols[i];
    const steps = symbol === undefined ? [0] : stepsOf(symbol, part.clef);
    return up ? Math.max(...steps) : -Math.min(...steps);
  });
  const outer = Math.max(reach[0] ?? 0, reach.at(-1) ?? 0);
  return reach[0] === reach.at(-1) || reach.slice(1, -1).some(r => r >= outer);
};

/** A beam that slants by the table of `slant.ts`, not by the library's own search. */
class SlantedBeam extends Beam {
  private readonly steps: number;
  private readonly flat: boolean;
  constructor(notes: StaveNote[], steps: number, flat: boolean) {
    super(notes);
    this.steps = steps;
    this.flat = flat;
  }

  override calculateSlope(): void {
    const notes = this.getNotes().filter(note => note.hasStem());
    const up = notes[0]?.getStemDirection() === STEM.up;
    const tips = notes.map(note => ({ x: note.getStemX(), y: note.getStemExtents().topY }));
    const topLine = notes[0]?.checkStave().getYForLine(0) ?? 0;
    const { slope, shift } = slantOf(tips, this.steps, this.flat, up, this.renderOptions.beamWidth, topLine);
    this.slope = slope;
    this.yShift = shift;
  }
}

const beamOf = (
  bar: ScoreBar,
  group: readonly number[],
  part: ScorePart,
  notes: readonly StaveNote[],
  weight: Weight,
): Beam => {
  const up = stemDirections(bar, part.clef)[group[0] ?? 0] === 'up';
  const outer = (i: number | undefined): number => {
    const symbol = i === undefined ? undefined : bar.symbols[i];
    const steps = symbol === undefined ? [0] : stepsOf(symbol, part.clef);
    return up ? Math.max(...steps) : Math.min(...steps);
  };
  const beam = new SlantedBeam(
    group.flatMap(i => notes[i] ?? []),
    outer(group.at(-1)) - outer(group[0]),
    liesFlat(bar, group, part),
  );
  beam.renderOptions.beamWidth = 5 * weight;
  beam.breakSecondaryAt(secondaryBreaks(bar, group).map(i => group.indexOf(i)));
  group.forEach((i, place) => {
    if (place === 0 || place === group.length - 1) return;
    beam.setPartialBeamSideAt(place, hookSide(bar, i) === 'left' ? 'L' : 'R');
  });
  return beam;
};

const tupletOf = (
  bar: ScoreBar,
  index: number,
  notes: readonly StaveNote[],
  directions: readonly (StemDirection | undefined)[],
): Tuplet | undefined => {
  const { actual, normal } = bar.tuplets[index] ?? { actual: 3, normal: 2 };
  const members = bar.symbols.flatMap((symbol, i) => (symbol.tuplet === index ? [i] : []));
  if (members.length === 0) return undefined;
  const joined = bar.beams.some(group => group[0] === members[0] && group.at(-1) === members.at(-1));
  const tuplet = new Tuplet(
    members.flatMap(i => notes[i] ?? []),
    {
      numNotes: actual,
      notesOccupied: normal,
      bracketed: !joined,
      // The number alone: the notes under it say in whose time (common practice, no source).
      ratioed: false,
      location: tupletSide(members, directions) === 'under' ? -1 : 1,
    },
  );
  return tuplet;
};

/**
 * Builds the notes, beams and tuplets of a bar and sets them at their places.
 * @param xs left edge of the head of each symbol, in stave units of the system
 * @param start where the stave counts note places from
 */
export const buildBar = (
  part: ScorePart,
  bar: ScoreBar,
  stave: Stave,
  xs: readonly number[],
  start: number,
  weight: Weight,
): DrawnBar => {
  const directions = stemDirections(bar, part.clef);
  const notes = bar.symbols.map((symbol, i) => toStaveNote(bar, i, symbol, part, directions[i], weight));
  const beams = bar.beams.map(group => beamOf(bar, group, part, notes, weight));
  notes.forEach((note, i) => {
    note.setStave(stave);
    note.addToModifierContext(new ModifierContext());
    new TickContext()
      .addTickable(note)
      .preFormat()
      .setX((xs[i] ?? 0) - start);
  });
  const tuplets = bar.tuplets.flatMap((_, index) => tupletOf(bar, index, notes, directions) ?? []);
  return { bar, notes, beams, tuplets };
};
