import { fraction } from '../../../core/foundation/fraction.ts';
import { key } from '../../../core/foundation/key.ts';
import { COMMON, type Situation } from '../situation.ts';

const row = (
  id: string,
  name: string,
  notes: string,
  written: string,
  rule: string,
  more: Partial<Situation> = {},
): Situation => ({ id, name, metre: '4/4', notes, written, rule, source: COMMON, ...more });

const QUAVERS = 'C5:1/2 D5:1/2 E5:1/2 G5:1/2 C5:1 r1';
const WRITTEN = '[e e e e] q rq';

/** Accidentals, clefs and keys, and everything else that stands about the notes. */
export const MARKS: readonly Situation[] = [
  row('sign-bar', 'A sign holds to the barline', 'F#5:1 G5:1 F#5:1 F5:1', 'q# q q qn', 'A sign holds for its line and octave to the barline.'),
  row('sign-next-bar', 'Reminder in the next bar', 'F#5:2 G5:2 F5:2 E5:2', 'h# h | h(n) h', 'A reminder in brackets where the bar before altered the letter.'),
  row('sign-octave', 'Reminder in another octave', 'F#4:2 F5:2', 'h# h(n)', 'A sign holds for one octave only; a reminder in the other.'),
  row('sign-tie', 'No sign after a tie', 'C5:3 F#5:2 G5:3', 'h. q#~ | q q~ h', 'A tied note repeats no sign.'),
  row('sign-key', 'Signs against the key', 'Bb4:1 B4:1 C5:1 F#5:1', 'q qn q q#', 'Only what the key signature does not say gets a sign.', { key: key('F') }),
  row('sign-minor', 'Leading note in a minor key', 'D5:1 C#5:1 D5:1 A4:1', 'q q# q q', 'The raised seventh is written as an accidental.', { key: key('D', 'minor') }),
  row('sign-chord', 'Signs in a chord', 'F#4+C#5:2 F4+C5:2', 'h## hnn', 'Signs of a chord stand clear of each other.'),
  row('sign-second', 'Signs and a second', 'F#4+G#4:1 G4+A4:1 F#4+A#4:1/2 G4+B4:1/2 C5:1', 'q## qn [e# e] q', 'Heads a step apart stand on both sides of the stem.'),
  row('sign-semis', 'Signs in semiquavers', 'C#5:1/4 D#5:1/4 E5:1/4 D5:1/4 C5:1/4 D#5:1/4 E5:1/4 F#5:1/4 G5:2', '[s# s# s sn] [sn s# s s#] h', 'Signs never touch the note before.'),
  row('key-flats', 'Four flats', 'Ab4:1 C5:1 Eb5:2', 'q q h', 'Key signatures in their order.', { key: key('A', 'major', -1) }),
  row('key-sharps', 'Four sharps', 'E5:1 G#5:1 B5:2', 'q q h', 'Key signatures in their order.', { key: key('E') }),
  row('clef-bass', 'A low marimba', 'C3:1 G3:1/2 E3:1/2 C3:2', 'q [e e] h', 'The clef keeps the part nearest the stave.', { instruments: ['marimba'] }),
  row('ledger', 'Ledger lines', 'C4:1 A3:1 C6:1 E6:1', 'q q q q', 'Stems of notes on ledger lines reach the middle line.', { instruments: ['marimba'] }),
  row('chords', 'Two mallets', 'C5+E5:1 B4+D5:1/2 C5+E5:1/2 G4+C5:2', 'q [e e] h', 'A chord is one symbol on one stem.'),
  row('chord-tie', 'A chord tied over the barline', 'C5+E5:3 D5+F5:2 C5+E5:3', 'h. q~ | q q~ h', 'Every head of a chord has its tie.'),
  row('seconds', 'Seconds, stem down and up', 'C5+D5:1 G4+A4:1 B4+C5:2', 'q q h', 'Heads a step apart stand on both sides of the stem.'),
  row('dots-chord', 'Dotted chords', 'C5+E5:3/2 B4+D5:1/2 A4+C5:3/2 G4+B4:1/2', 'q. e q. e', 'Dots stand in spaces.'),
  row('upbeat', 'Upbeat of a crotchet', 'G4:1 C5:1 E5:1 G5:2', 'q | q q h', 'An upbeat is a short bar, numbered 0.', { upbeat: '1' }),
  row('upbeat-quavers', 'Upbeat of three quavers', 'G4:1/2 A4:1/2 B4:1/2 C5:3 G4:1', '[e e e] | h. q', 'Beats of an upbeat are counted from the barline after it.', { upbeat: '3/2' }),
  row('grace', 'Grace notes', '(D5)C5:1 (F#5)E5:1/2 G5:1/2 (B4)C5:2', "'q ['e e] 'h", 'A small note with a stroke, stem up, before its note.'),
  row('grace-signs', 'Grace note and accidental', '(D#5)E5:1 (F#5)G#5:1 (C#6)D6:2', "'q 'q# 'h(n)", 'The small note keeps its own sign.'),
  row('accents', 'Accents', 'C5:1/2> D5:1/2 E5:1/2 G5:1/2> C5:1> A4:1>', '[e> e e e>] q> q>', 'Articulation stands at the head, away from the stem.'),
  row('staccato', 'Staccato and tenuto', 'C5:1/2* D5:1/2* G4:1/2* F4:1/2* C5:1_ A4:1_', '[e* e* e* e*] q_ q_', 'Articulation stands at the head, away from the stem.'),
  row('dynamics', 'Dynamics', '{p}C5:1 D5:1 {mf}E5:1 {ff}G5:1 {pp}C4:2 {mp}E5:1 {f}C5:1', '<p>q q <mf>q <ff>q | <pp>h <mp>q <f>q', 'Dynamics stand under the stave, in line.'),
  row('letters-under', 'Letter names under the notes', 'C5:1/2 F#5:1/2 Bb4:1/2 G5:1/2 C5+E5:2', '[e e# eb e] h', 'Letters stand in line under the heads.', { options: { under: ['letters'] } }),
  row('counts-under', 'Counts under the notes', 'C5:1/2 D5:1/4 E5:1/4 C5:1/2 G5:1/2 C5:2', '[e s s] [e e] h', 'Counts: 1 & a, as said aloud.', { options: { under: ['counts'] } }),
  row('syllables-under', 'Rhythm syllables', 'C5:1 D5:1/2 E5:1/2 C5:1/4 D5:1/4 E5:1/4 F5:1/4 G5:1 C5:2 E5:1/3 F5:1/3 G5:1/3 C5:1', 'q [e e] [s s s s] q | h (3:[e e e]) q', 'ta, ti-ti, ti-ka-ti-ka, ta-a, tri-o-la.', {
    source: 'D. Wicks, "Rhythm Syllables", edu-cyberpg.com (ta, ti, tika); the rest common practice, no source',
    options: { under: ['syllables'] },
  }),
  row('all-under', 'Dynamics, letters, counts and syllables', '{mf}E4:1/2 D4:1/2 C4:1/2 D4:1/2 {p}C4:2', '[<mf>e e e e] <p>h', 'Rows never meet.', {
    options: { under: ['letters', 'counts', 'syllables'] },
  }),
  row('tempo', 'Metronome mark, swing, and a new tempo', `${QUAVERS} ${QUAVERS}`, `${WRITTEN} | ${WRITTEN}`, 'Marks stand over the first stave, at their place.', {
    score: { swing: { ratio: 2, unit: fraction(1, 8) }, tempi: [{ at: fraction(1), tempo: 120 }] },
  }),
  row('letters', 'Rehearsal letters', `${QUAVERS} ${QUAVERS} ${QUAVERS}`, `${WRITTEN} | ${WRITTEN} | ${WRITTEN}`, 'Letters in boxes, at the barline.', {
    score: { letters: [{ bar: 0, letter: 'A' }, { bar: 2, letter: 'B' }], tempi: [{ at: fraction(2), tempo: 120 }] },
  }),
  row('repeat-twice', 'A bar played twice', `${QUAVERS} ${QUAVERS} C5:4`, `${WRITTEN} | w`, 'Statements that come again straight away stand between repeat bars.', { repeats: true }),
  row('repeat-four', 'Two bars played four times', Array.from({ length: 4 }, () => `${QUAVERS} E5:4`).join(' '), `${WRITTEN} | w`, 'More than twice is said over the bar.', { repeats: true }),
  row('repeat-inside', 'Repeats after a first bar', `C5:4 ${QUAVERS} ${QUAVERS} ${QUAVERS} G4:2 E4:2 G4:2 E4:2 C4:4`, `w | ${WRITTEN} | h h | w`, 'Two repeats side by side keep their own signs.', { repeats: true }),
  row('two-parts', 'Two parts, one triplet', 'C5:1/3 D5:1/3 E5:1/3 G5:1 C5:2 / E4:1/2 G4:1/2 C5:1 G4:1/4 A4:1/4 B4:1/2 C5:1', '(3:[e e e]) q h / [e e] q [s s e] q', 'What sounds together stands together.', { instruments: ['glockenspiel', 'marimba'] }),
  row('three-parts', 'Three parts with marks', '{f}C5:1> F#5:1 C5:2 / {p}E4:1/2 G4:1/2 C5:1 r2 / C3:2 (D3)E3:2', '<f>q> q# h / [<p>e e] q rh / h \'h', 'What sounds together stands together.', {
    instruments: ['glockenspiel', 'vibraphone', 'marimba'],
    score: { letters: [{ bar: 0, letter: 'A' }], tempo: 88 },
  }),
  row('large-print', 'Large print, 12 mm', `{mf}${QUAVERS} F#5:3/4 E5:1/4 D5:1/3 E5:1/3 F5:1/3 C5:2`, `[<mf>e e e e] q rq | [e.# s] (3:[e e en]) h`, 'Stave of 12 mm, thicker lines.', {
    score: { letters: [{ bar: 1, letter: 'B' }], tempo: 96 },
    options: { staveHeight: 12, under: ['letters'], width: 760 },
  }),
];
