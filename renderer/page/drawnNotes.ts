import { Accidental, Beam, Dot, StaveNote, Tuplet, Voice, VoiceMode } from 'vexflow/bravura';
import type { ScoreBar, ScorePart, ScoreSymbol } from '../../core/score/score.ts';

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

/** One bar of one part as VexFlow objects, which are mutable and never leave this folder. */
export interface DrawnBar {
  readonly bar: ScoreBar;
  readonly notes: readonly StaveNote[];
  readonly voice: Voice;
  readonly beams: readonly Beam[];
  readonly tuplets: readonly Tuplet[];
}

const restKey = (part: ScorePart): string => (part.clef === 'bass' ? 'd/3' : 'b/4');

const toStaveNote = (symbol: ScoreSymbol, part: ScorePart): StaveNote => {
  const rest = symbol.pitches.length === 0;
  const keys = rest
    ? [restKey(part)]
    : symbol.pitches.map(({ spelled }) => `${spelled.step.toLowerCase()}/${String(spelled.octave)}`);
  const note = new StaveNote({
    keys,
    duration: `${DURATION[symbol.value.base] ?? 'q'}${rest ? 'r' : ''}`,
    dots: symbol.value.dots,
    clef: part.clef,
    autoStem: !rest,
    alignCenter: symbol.wholeBar === true,
  });
  for (let i = 0; i < symbol.value.dots; i++) Dot.buildAndAttach([note], { all: true });
  symbol.pitches.forEach(({ accidental, cautionary }, i) => {
    if (accidental === undefined) return;
    const sign = new Accidental(SIGN[String(accidental)] ?? 'n');
    note.addModifier(cautionary === true ? sign.setAsCautionary() : sign, i);
  });
  return note;
};

const isNote = (note: StaveNote | undefined): note is StaveNote => note !== undefined;

/** Builds the notes, beams and tuplets of a bar; positions come later, from the formatter. */
export const buildBar = (part: ScorePart, bar: ScoreBar): DrawnBar => {
  const notes = bar.symbols.map(symbol => toStaveNote(symbol, part));
  const beams = bar.beams.map(group => new Beam(group.map(i => notes[i]).filter(isNote), true));
  const tuplets = bar.tuplets.map((tuplet, index) => {
    const members = bar.symbols.flatMap((symbol, i) => (symbol.tuplet === index ? [i] : []));
    const joined = bar.beams.some(
      group => group.length === members.length && members.every(i => group.includes(i)),
    );
    return new Tuplet(members.map(i => notes[i]).filter(isNote), {
      numNotes: tuplet.actual,
      notesOccupied: tuplet.normal,
      bracketed: !joined,
      ratioed: tuplet.actual !== 3 && tuplet.actual !== 6,
    });
  });
  const voice = new Voice({ numBeats: 4, beatValue: 4 }).setMode(VoiceMode.SOFT);
  voice.addTickables([...notes]);
  tuplets.forEach((tuplet, index) => {
    const members = bar.symbols.flatMap((symbol, i) => (symbol.tuplet === index ? [notes[i]] : []));
    const down = members.filter(isNote).filter(n => !n.isRest() && n.getStemDirection() < 0).length;
    tuplet.setTupletLocation(down * 2 > members.length ? -1 : 1);
  });
  return { bar, notes, voice, beams, tuplets };
};
