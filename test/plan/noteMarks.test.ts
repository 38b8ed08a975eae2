import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { fraction, toNumber } from '../../core/foundation/fraction.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Growth } from '../../core/growing/growth.ts';
import { between } from '../../core/growing/split.ts';
import { type NoteMark, type NoteMarkKind, toggleMark } from '../../core/plan/noteMarks.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { notesOfStatement, type Statement } from '../../core/plan/statement.ts';
import { perform } from '../../core/playback/perform.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import type { Score } from '../../core/score/score.ts';
import { isStopped } from '../../renderer/sound/player.ts';
import { schema, schemaErrors } from '../exchange/w3cSchema.ts';
import { IDEA } from './motifs.ts';

const on = (time: number, note: number, mark: NoteMarkKind): NoteMark => ({ time, note, mark });
const statement = (noteMarks: readonly NoteMark[], times = 2, more: Partial<Statement> = {}): Statement => {
  const [first] = firstPlan('vibraphone', 60).statements;
  if (first === undefined) throw new Error('no statement');
  return { ...first, times, noteMarks, ...more };
};
const planOf = (one: Statement): Plan => ({ ...firstPlan('vibraphone', 60), statements: [one] });
const scoreOf = (one: Statement): Score => scoreOfPlan(IDEA, planOf(one), 'Idea', 'Heron');
/** What is set on each note: its ref without the statement, and its marks. */
const marked = (one: Statement): string[] =>
  notesOfStatement(IDEA, one).flatMap(n => {
    const all = [
      n.roll === true ? 'roll' : '',
      n.fermata === true ? 'fermata' : '',
      n.ring === true ? 'ring' : '',
      n.dead === true ? 'dead' : '',
    ].join('');
    return all === '' ? [] : [`${n.ref.slice(3)} ${all}`];
  });
const ALL = [on(0, 1, 'roll'), on(0, 2, 'fermata'), on(1, 0, 'dead'), on(1, 4, 'ring')];

describe('marks on single notes', () => {
  it('stand on that note of that time through, and nowhere else', () => {
    expect(marked(statement(ALL))).toEqual(['0:1 roll', '0:2 fermata', '1:0 dead', '1:4 ring']);
    expect(marked(statement([on(7, 0, 'roll'), on(0, 99, 'dead')]))).toEqual([]);
  });
  it('say of a note how it is struck before a roll on all of them does', () => {
    const rolled = statement([on(0, 0, 'dead'), on(0, 1, 'ring'), on(0, 2, 'fermata')], 1, { rolled: 'all' });
    expect(marked(rolled)).toEqual(['0:0 dead', '0:1 ring', '0:2 rollfermata', '0:3 roll', '0:4 roll']);
  });
  it('a note is rolled, rings or is dead, and may be held besides; the same again takes it away', () => {
    const set = (kinds: readonly NoteMarkKind[]): string[] =>
      kinds
        .reduce<readonly NoteMark[]>((so, mark) => toggleMark(so, on(0, 1, mark)), [on(0, 0, 'roll')])
        .filter(m => m.note === 1)
        .map(m => m.mark);
    expect(set(['roll', 'fermata'])).toEqual(['roll', 'fermata']);
    expect(set(['roll', 'fermata', 'dead'])).toEqual(['fermata', 'dead']);
    expect(set(['ring', 'ring'])).toEqual([]);
  });

  it('go with their notes when a section is copied, as far as those lie in it', () => {
    const whole = between(IDEA, statement(ALL), fraction(1), fraction(2));
    expect(whole.map(s => s.noteMarks)).toEqual([[on(0, 0, 'dead'), on(0, 4, 'ring')]]);
    // Notes begin at 0, 1/8, 3/8, 5/8 and 6/8: from the middle of the first bar there are two, then five.
    const cut = between(IDEA, statement(ALL), fraction(3, 8), fraction(2));
    expect(cut.map(s => s.noteMarks)).toEqual([[on(0, 0, 'fermata')], [on(0, 0, 'dead'), on(0, 4, 'ring')]]);
    const both = between(IDEA, statement([...ALL, on(2, 3, 'roll')], 3), fraction(1), fraction(3));
    expect(both.map(s => [s.times, s.noteMarks])).toEqual([
      [2, [on(0, 0, 'dead'), on(0, 4, 'ring'), on(1, 3, 'roll')]],
    ]);
    const none = between(IDEA, statement([on(0, 0, 'roll')]), fraction(1), fraction(2));
    expect(none[0]).not.toHaveProperty('noteMarks');
  });
  it('stay with the place they are set at: what answers has its own', () => {
    const canon: Growth = { kind: 'canon', statement: 's1', to: { newPart: 'marimba' }, beats: 1 };
    const grown = grow(IDEA, planOf(statement(ALL)), canon);
    expect(grown.ok && grown.value.plan.statements[1]).not.toHaveProperty('noteMarks');
    expect(withRepeatBars(scoreOf(statement([]))).repeats).toHaveLength(1);
    for (const { mark } of ALL)
      expect(withRepeatBars(scoreOf(statement([on(1, 0, mark)]))).repeats).toBeUndefined();
  });
});

describe('what single notes sound and read like', () => {
  it('a fermata on an inner note makes every part wait, once', () => {
    const plain = perform(scoreOf(statement([], 1)));
    const held = perform(scoreOf(statement([on(0, 1, 'fermata')], 1)));
    // Crotchet 60: the second note, a crotchet, lasts a second longer.
    expect(held.events.map((e, i) => (e.seconds - (plain.events[i]?.seconds ?? 0)).toFixed(3))).toEqual([
      '0.000',
      '0.000',
      '1.000',
      '1.000',
      '1.000',
    ]);
  });
  it('one note rolled is struck twelve times a second; the others once', () => {
    const rolled = perform(scoreOf(statement([on(0, 1, 'roll')], 1))).events;
    expect(rolled.filter(e => e.ref?.endsWith(':1') === true)).toHaveLength(12);
    expect(rolled).toHaveLength(16);
  });
  it('a bar left to ring is not damped, not even on a vibraphone; a dead one is short and says so', () => {
    const events = perform(scoreOf(statement([on(0, 1, 'ring'), on(0, 3, 'dead')], 1))).events;
    expect(events.map(isStopped)).toEqual([true, false, true, true, true]);
    expect(events.map(e => e.dead === true)).toEqual([false, false, false, true, false]);
    expect(events[3]?.duration).toBeLessThan(0.2);
    // A second as written; its bar is struck again after two.
    expect(events[1]?.duration).toBe(2);
  });
  it('tied notes ring from their end and are dead from their beginning', () => {
    const [bar] = scoreOf(statement([on(0, 2, 'ring')], 1)).parts[0]?.bars ?? [];
    // The third note is tied over the middle of the bar.
    expect(bar?.symbols.map(s => [toNumber(s.onset), s.ring === true])).toEqual([
      [0, false],
      [0.125, false],
      [0.375, false],
      [0.5, true],
      [0.625, false],
      [0.75, false],
    ]);
    const [dead] = scoreOf(statement([on(0, 2, 'dead')], 1)).parts[0]?.bars ?? [];
    expect(dead?.symbols.map(s => s.dead === true)).toEqual([false, false, true, false, false, false]);
  });
  it('words and MusicXML say it', () => {
    const score = scoreOf(statement(ALL));
    const words = textScore(score).join(' ');
    for (const said of ['rolled', 'held (fermata)', 'dead stroke', 'let ring'])
      expect(words.split(said)).toHaveLength(2);
    const xml = musicXml(score);
    expect(xml.match(/<tied type="let-ring"\/>/g)).toHaveLength(1);
    expect(xml.match(/<other-technical>dead stroke/g)).toHaveLength(1);
    expect(xml.match(/<fermata/g)).toHaveLength(1);
  });
  it.runIf(schema !== undefined)('MusicXML is valid against the W3C schema', async () => {
    expect(await schemaErrors(new Map([['marks', musicXml(scoreOf(statement(ALL)))]]))).toEqual([]);
  });
});
