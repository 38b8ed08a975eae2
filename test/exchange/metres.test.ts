import { Window } from 'happy-dom';
import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { partScores } from '../../core/exchange/partScores.ts';
import { PPQ, standardMidi } from '../../core/exchange/standardMidi.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { fraction, toNumber } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { Growth } from '../../core/growing/growth.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { placeWords } from '../../core/piece/positionWords.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { tempoFrom } from '../../core/plan/tempi.ts';
import { clickOfScore } from '../../core/playback/compare.ts';
import { countedIn } from '../../core/playback/countIn.ts';
import { perform } from '../../core/playback/perform.ts';
import { secondsAtOnset } from '../../core/playback/seconds.ts';
import { withLongRests } from '../../core/score/longRests.ts';
import { metricRelation } from '../../core/score/metreAt.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import { playedOut } from '../../core/score/repeats.ts';
import type { Score } from '../../core/score/score.ts';
import { after, four, IDEA as PLAIN, scoreOf, UPBEAT_IDEA as IDEA } from '../growing/keyed.ts';
import { drawnNotes, foundNotes, foundStrokes, loaded } from './byVerovio.ts';
import { schema, schemaErrors } from './w3cSchema.ts';

/** Six times, with a canon an octave lower in a marimba; 6/8 from bar 3, 3/4 from bar 5, D major there. */
const steps: readonly Growth[] = [
  { kind: 'repeat', statement: 's1', times: 6 },
  { kind: 'canon', statement: 's1', to: { newPart: 'marimba' }, beats: 2, octaves: -1 },
  { kind: 'metre', statement: 's1', bar: 3, to: metre(6, 8) },
  { kind: 'metre', statement: 's1', bar: 5, to: metre(3, 4) },
  { kind: 'key', statement: 's1', bar: 5, to: { moved: 2 } },
];
const plan: Plan = after(IDEA, firstPlan('xylophone', 90), ...steps);
const score = scoreOf(IDEA, plan);

describe('files of a piece with several metres', () => {
  it('MusicXML has a time in the bar of change, in every part, after the key, and says quaver = quaver once', () => {
    const window = new Window();
    const xml = musicXml(score).replace(/<!DOCTYPE[^>]*>/, '');
    const tree = new window.DOMParser().parseFromString(xml, 'application/xml');
    const times = [...tree.querySelectorAll('time')].map(found =>
      [
        found.closest('part')?.id ?? '',
        found.closest('measure')?.getAttribute('number') ?? '',
        `${found.querySelector('beats')?.textContent ?? ''}/${found.querySelector('beat-type')?.textContent ?? ''}`,
      ].join(' '),
    );
    expect(times).toEqual(['P1', 'P2'].flatMap(p => [`${p} 0 4/4`, `${p} 3 6/8`, `${p} 5 3/4`]));
    const said = [...tree.querySelectorAll('metronome')].map(found =>
      [...found.children].map(c => c.textContent).join(' '),
    );
    expect(said).toEqual(['quarter 90', 'eighth eighth', 'eighth eighth']);
    expect(musicXml(partScores(score)[1] ?? score).match(/<time>/g)).toHaveLength(3);
  });

  it.runIf(schema !== undefined)('MusicXML is valid against the W3C schema', async () => {
    const marked = scoreOf(IDEA, tempoFrom(IDEA, plan, 3, 72));
    expect(
      await schemaErrors(
        new Map([
          ['metres', musicXml(score)],
          ['marked', musicXml(marked)],
          ['repeats', musicXml(withRepeatBars(score))],
        ]),
      ),
    ).toEqual([]);
  });

  it('Verovio (an independent reader) finds the notes of the score, and they are those that sound', async () => {
    const reader = await loaded(musicXml(score));
    expect(foundNotes(reader)).toEqual(drawnNotes(score));
    const sounding = perform(score).events.map(
      e => `${((e.seconds * 90) / 60).toFixed(1)} ${String(e.pitch)}`,
    );
    expect(foundStrokes(reader)).toEqual(sounding.sort());
  });

  // FF 58 nn dd cc bb: cc is MIDI clocks to a click, 24 a crotchet (Standard MIDI File 1.0; from memory).
  it('a MIDI file has a time signature at each change, to the tick, its click a beat, by an independent parser', () => {
    const found: string[] = [];
    let at = 0;
    for (const event of parseMidi(standardMidi(score)).tracks[0] ?? []) {
      at += event.deltaTime;
      if (event.type === 'timeSignature')
        found.push(
          `${String(at / PPQ)} ${String(event.numerator)}/${String(event.denominator)} ${String(event.metronome)}`,
        );
    }
    // A crotchet of upbeat, two bars of four, two of three.
    expect(found).toEqual(['0 4/4 24', '9 6/8 36', '15 3/4 24']);
  });

  it('a new tempo at the change is told in its beats, everywhere', () => {
    const marked = scoreOf(IDEA, tempoFrom(IDEA, plan, 3, 72));
    expect(marked.tempi).toEqual([{ at: fraction(2), tempo: 72, beat: fraction(3, 8) }]);
    expect(metricRelation(marked, 3)).toBeUndefined();
    // A bar of 6/8 has two beats: 120 / 72 s. The upbeat before it counts too.
    const bar = (i: number): number =>
      secondsAtOnset(marked, {
        n: 4 * (toNumber(marked.parts[0]?.bars[i]?.start ?? { n: 0, d: 1 }) + 0.25),
        d: 4,
      });
    expect(bar(4) - bar(3)).toBeCloseTo(120 / 72, 9);
    expect(musicXml(marked)).toContain('<per-minute>72</per-minute>');
    // Dotted crotchets of 72 are 108 crotchets.
    expect(musicXml(marked)).toContain('<sound tempo="108"/>');
    const tempi: string[] = [];
    for (const event of parseMidi(standardMidi(marked)).tracks[0] ?? [])
      if (event.type === 'setTempo') tempi.push((6e7 / event.microsecondsPerBeat).toFixed(2));
    expect(tempi).toEqual(['90.00', '108.00']);
    expect(textScore(marked).find(line => line.includes('Bar 3:'))).toContain(
      'Letter A, metre now 6/8, dotted crotchet = 72 from beat 1. ',
    );
  });

  it('the words say the metre where it changes, in every part', () => {
    const lines = textScore(score);
    expect(lines.filter(line => line.includes('metre now 6/8, quaver = quaver as before'))).toHaveLength(2);
    expect(lines.filter(line => line.includes('metre now 3/4, quaver = quaver as before'))).toHaveLength(2);
    expect(lines.find(line => line.includes('Bar 5:'))).toContain(
      'Letter B, key now D major, metre now 3/4, quaver = quaver as before. Bar 5:',
    );
    const three = after(PLAIN, four(), { kind: 'metre', statement: 's1', bar: 3, to: metre(3, 4) });
    expect(textScore(scoreOf(PLAIN, three)).find(line => line.includes('Bar 3:'))).toBe(
      'Letter A, metre now 3/4. Bar 3: C5 crotchet; E5 crotchet; G5 crotchet',
    );
  });
});

it('what begins within a bar is told by the beats of its metre', () => {
  const three = after(PLAIN, four(), { kind: 'metre', statement: 's1', bar: 3, to: metre(3, 4) });
  const slower = { ...three, statements: three.statements.map(s => ({ ...s, ritardando: true as const })) };
  // Sixteen crotchets: the last three begin with the fourteenth, the third of bar 4.
  expect(textScore(scoreOf(PLAIN, slower)).find(line => line.includes('Bar 4:'))).toContain(
    'slowing down (ritardando) from beat 3. ',
  );
});

describe('beats of a piece with several metres', () => {
  it('the click beats each metre, its first beat louder', () => {
    const { beats, accents } = clickOfScore(score);
    const told = beats.map((at, i) => `${(at * 1.5).toFixed(2)}${accents[i] === true ? '!' : ''}`);
    // In crotchets from the upbeat: 4/4 twice, 6/8 in dotted crotchets twice, then 3/4.
    expect(told.slice(0, 17)).toEqual([
      ...['0.00', '1.00!', '2.00', '3.00', '4.00', '5.00!', '6.00', '7.00', '8.00'],
      ...['9.00!', '10.50', '12.00!', '13.50'],
      ...['15.00!', '16.00', '17.00', '18.00!'],
    ]);
  });

  it('a count-in counts the metre it leads to', () => {
    const at = (bar: number) =>
      countedIn(score, perform(score), toNumber(score.parts[0]?.bars[bar]?.start ?? fraction(0)));
    const told = (bar: number): string[] =>
      at(bar).click.beats.map(
        (b, i) => `${(b * 1.5).toFixed(2)}${at(bar).click.accents[i] === true ? '!' : ''}`,
      );
    expect(told(2)).toEqual(['0.00!', '1.00', '2.00', '3.00']);
    expect(told(3)).toEqual(['0.00!', '1.50']);
    expect(told(6)).toEqual(['0.00!', '1.00', '2.00']);
  });

  it('places are told as counted in the metre of their bar', () => {
    expect(placeWords(score, fraction(-1, 4))).toBe('upbeat, 4');
    expect(placeWords(score, fraction(3, 2))).toBe('bar 2, 3');
    expect(placeWords(score, fraction(21, 8))).toBe('bar 3, 2 li');
    expect(placeWords(score, fraction(15, 4))).toBe('bar 5, 2');
  });
});

describe('bars that come again, and bars of rest', () => {
  const once = (plan: Plan): Score => scoreOf(PLAIN, plan);
  it('a repeat never goes over a change, and played out it is the same', () => {
    const plan: Plan = {
      ...firstPlan('xylophone', 90),
      statements: [0, 1, 2, 3].map(bar => ({
        id: `s${String(bar)}`,
        part: 'p1',
        onset: fraction(bar),
        chain: [],
        times: 1,
      })),
      nextId: 9,
    };
    const inTwo = after(
      PLAIN,
      { ...plan, statements: plan.statements.map(s => ({ ...s, id: s.id === 's0' ? 's1' : `t${s.id}` })) },
      {
        kind: 'metre',
        statement: 's1',
        bar: 3,
        to: metre(2, 4),
      },
    );
    const score = { ...once(inTwo), brackets: [], letters: [] };
    const folded = withRepeatBars(score);
    expect(folded.repeats?.map(r => [r.bar, r.bars, r.times])).toEqual([
      [0, 1, 2],
      [1, 2, 2],
    ]);
    expect(folded.metres).toEqual([{ bar: 1, metre: metre(2, 4) }]);
    expect(playedOut(folded).metres).toEqual([{ bar: 2, metre: metre(2, 4) }]);
    const heard = (one: Score) => perform(one).events.map(e => [e.seconds.toFixed(6), e.pitch]);
    expect(heard(folded)).toEqual(heard(score));
  });

  it('bars as long as before are other bars in another metre: 3/4 and 6/8', () => {
    const idea: Motif = {
      ...PLAIN,
      metre: metre(3, 4),
      length: fraction(3, 4),
      notes: [{ onset: fraction(0), duration: fraction(3, 4), degree: 35, alter: 0 }],
    };
    const plan = after(
      idea,
      { ...firstPlan('xylophone', 90), letters: [] },
      { kind: 'repeat', statement: 's1', times: 4 },
    );
    const two = after(
      idea,
      { ...plan, parts: [...plan.parts, { id: 'p2', instrument: 'marimba' }] },
      {
        kind: 'metre',
        statement: 's1',
        bar: 3,
        to: metre(6, 8),
      },
    );
    const score: Score = { ...scoreOf(idea, two), letters: [], brackets: [] };
    expect(withRepeatBars(score).repeats?.map(r => [r.bar, r.bars, r.times])).toEqual([
      [0, 1, 2],
      [1, 1, 2],
    ]);
    const part = withLongRests(partScores(score)[1] ?? score);
    expect(part.parts[0]?.bars.map(b => b.restBars)).toEqual([2, 2]);
  });

  it('a long rest ends where the metre changes', () => {
    const plan = after(
      PLAIN,
      { ...four(), statements: four().statements.map(s => ({ ...s, times: 6 })) },
      { kind: 'metre', statement: 's1', bar: 4, to: metre(3, 4) },
    );
    const rests: Score = {
      ...once({ ...plan, parts: [...plan.parts, { id: 'p2', instrument: 'marimba' }] }),
      letters: [],
    };
    const part = withLongRests(partScores(rests)[1] ?? rests);
    expect(part.parts[0]?.bars.map(b => b.restBars)).toEqual([3, 4]);
    expect(part.metres).toEqual([{ bar: 1, metre: metre(3, 4) }]);
  });
});
