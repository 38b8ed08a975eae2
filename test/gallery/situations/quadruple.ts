import { BERKLEE, COMMON, type Situation } from '../situation.ts';

const row = (
  id: string,
  name: string,
  notes: string,
  written: string,
  rule: string,
  source: string = BERKLEE,
): Situation => ({ id: `44-${id}`, name, metre: '4/4', notes, written, rule, source });

const MID = 'Only semibreves and unsyncopated (dotted) minims cross the middle of 4/4; else a tie shows beat 3.';
const SEMI = 'With semiquavers every beat shows.';

/** 4/4. */
export const QUADRUPLE: readonly Situation[] = [
  row('semibreve', 'Semibreve', 'C5:4', 'w', MID),
  row('minims', 'Dotted minim on beat 1', 'E5:3 C5:1', 'h. q', MID),
  row('minim-beat-2', 'Minim on beat 2', 'G4:1 C5:2 A4:1', 'q q~ q q', MID),
  row('late-minim', 'Dotted minim on beat 2 is tied', 'G4:1 C5:3', 'q q~ h', MID),
  row('syncopa', 'Quaver, crotchet, quaver in each half bar', 'C5:1/2 D5:1 E5:1/2 G5:1/2 E5:1 D5:1/2', 'e q e e q e', 'Quaver-crotchet-quaver inside a half bar is fine.'),
  row('mid-bar', 'Crotchet across the middle is tied', 'C5:3/2 A4:1 G4:3/2', 'q. e~ [e e~] q', MID),
  row('charleston', 'Dotted crotchet and an off-beat', 'G4:3/2 E5:5/2', 'q. e~ h', MID),
  row('tresillo', 'Three, three and two quavers', 'A4:3/2 C5:3/2 E5:1', 'q. e~ q q', MID),
  row('quavers', 'Quavers are beamed by half bars', 'C5:1/2 D5:1/2 E5:1/2 F5:1/2 G5:1/2 F5:1/2 E5:1/2 D5:1/2', '[e e e e] [e e e e]', 'Beams never cross the middle of 4/4.'),
  row('off-beats', 'Off-beat quavers', 'r1/2 C5:1/2 r1/2 D5:1/2 r1/2 E5:1/2 r1/2 G5:1/2', 're e re e re e re e', 'A rest shows the beat; a beam over rests stays inside one beat.', COMMON),
  row('quaver-rest', 'Quaver rest inside a half bar', 'C5:1/2 r1/2 E5:1/2 G5:1/2 C5:2', 'e re [e e] h', 'A rest shows the beat; a beam over rests stays inside one beat.', COMMON),
  row('semiquavers', 'Semiquavers', 'C5:1/4 D5:1/4 E5:1/4 F5:1/4 G5:1/4 F5:1/4 E5:1/4 D5:1/4 C5:2', '[s s s s] [s s s s] h', SEMI),
  row('mixed', 'Semiquavers make quavers show the beat', 'C5:1/4 D5:1/4 E5:1/2 G5:1/2 E5:1/2 C5:2', '[s s e] [e e] h', SEMI),
  row('gallop', 'Quaver and two semiquavers', 'C5:1/2 E5:1/4 D5:1/4 C5:1/2 E5:1/4 D5:1/4 C5:2', '[e s s] [e s s] h', SEMI),
  row('inner-syncopa', 'Semiquaver, quaver, semiquaver in a beat', 'C5:1/4 E5:1/2 G5:1/4 E5:1 C5:2', '[s e s] q h', 'The quaver-crotchet-quaver figure, halved.'),
  row('dotted', 'Dotted quaver and semiquaver', 'C5:3/4 D5:1/4 E5:3/4 G5:1/4 C5:2', '[e. s] [e. s] h', SEMI),
  row('snap', 'Semiquaver and dotted quaver', 'E5:1/4 C5:3/4 G5:1/4 E5:3/4 C5:2', '[s e.] [s e.] h', SEMI),
  row('tied-semiquaver', 'Off-beat semiquaver held over the beat', 'C5:3/4 D5:1/2 E5:3/4 C5:2', '[e. s~] [s e.] h', SEMI),
  row('middle-stub', 'Semiquaver between dotted values', 'C5:3/4 D5:1/4 E5:1/4 D5:1/4 C5:1/2 E5:1/4 G5:1/2 A5:1/4 C5:1', '[e. s] [s s e] [s e s] q', 'The stub of a short note points to the note it completes.', COMMON),
  row('anticipation', 'Anticipation tied over the barline', 'E5:7/2 G5:1/2 C5:4', 'h~ q. e | w', MID),
  row('held-over', 'Anticipation held into the next bar', 'C5:2 D5:3/2 E5:5/2 C5:2', 'h q. e~ | h h', MID),
  row('rest-first', 'Crotchet rest on beat 1', 'r1 C5:1 D5:1 E5:1', 'rq q q q', 'Rests are at least as strict as notes.', COMMON),
  row('half-rest', 'Half-bar rest', 'C5:2 r2', 'h rh', 'A minim rest fills either half of the bar.', COMMON),
  row('mid-rest', 'No rest crosses the middle', 'C5:1 r2 E5:1', 'q rq rq q', 'Rests are at least as strict as notes.', COMMON),
  row('beat-rest', 'Off-beat rests show the beat', 'C5:1/2 r1 E5:1/2 C5:2', 'e re re e h', 'Rests are at least as strict as notes.', COMMON),
  row('short-rest', 'Semiquaver rest on the beat', 'r1/4 C5:3/4 r1/4 D5:1/4 E5:1/2 C5:2', 'rs e. rs [s e] h', 'A rest shows the beat.', COMMON),
  row('beam-over-rest', 'Beam over a semiquaver rest', 'C5:1/4 r1/4 E5:1/4 G5:1/4 C5:1/2 D5:1/4 r1/4 E5:2', '[s rs s s] [e s] rs h', 'A beam carries on over a rest inside its beat.', COMMON),
  row('whole-rest', 'Whole-bar rest', 'r4 C5:4', 'R | w', 'A bar of silence has one rest, in its middle.', COMMON),
  row('demisemis', 'Demisemiquavers', 'C5:1/8 D5:1/8 E5:1/4 G5:1/2 E5:1 C5:2', '[t t s e] q h', SEMI),
  row('stems', 'Stems turn at the middle line', 'G4:1 B4:1 D5:1 F4:1/2 E5:1/2', 'q q q [e e]', 'The note farthest from the middle line turns the stem; on it, down.', COMMON),
  row('wide-beam', 'Leaps under one beam', 'C4:1/2 C6:1/2 A5:1/2 E4:1/2 G5:1/4 C4:1/4 G5:1/4 C4:1/4 C5:1', '[e e e e] [s s s s] q', 'One beam, one stem direction.', COMMON),
];
