import { Window } from 'happy-dom';
import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { partScores } from '../../core/exchange/partScores.ts';
import { PPQ, standardMidi } from '../../core/exchange/standardMidi.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import type { Growth } from '../../core/growing/growth.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { concertSet } from '../../core/playable/presets.ts';
import { checkPlayable, neededToneBars } from '../../core/playable/check.ts';
import { newMusicRoom } from '../../core/playable/musicRoom.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { perform } from '../../core/playback/perform.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { withLongRests } from '../../core/score/longRests.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import type { Score } from '../../core/score/score.ts';
import { after, scoreOf, UPBEAT_IDEA as IDEA } from '../growing/keyed.ts';
import { drawnNotes, foundNotes, foundStrokes, loaded } from './byVerovio.ts';
import { schema, schemaErrors } from './w3cSchema.ts';

/** Six times, with a canon an octave lower in a marimba. */
const steps: readonly Growth[] = [
  { kind: 'repeat', statement: 's1', times: 6 },
  { kind: 'canon', statement: 's1', to: { newPart: 'marimba' }, beats: 2, octaves: -1 },
  { kind: 'key', statement: 's1', bar: 3, to: { moved: 2 } },
  { kind: 'key', statement: 's1', bar: 5, to: { moved: -2 } },
  { kind: 'key', statement: 's1', bar: 6, to: { moved: 0 } },
];
const plan = after(IDEA, firstPlan('xylophone', 90), ...steps);
const ROOM = newMusicRoom('room', 'Room');
const score = scoreOf(IDEA, plan);

/** What MusicXML says of keys: part, measure, cancelled signs, signs, mode. */
const keysInXml = (xml: string): string[] => {
  const window = new Window();
  const tree = new window.DOMParser().parseFromString(xml.replace(/<!DOCTYPE[^>]*>/, ''), 'application/xml');
  return [...tree.querySelectorAll('key')].map(found => {
    const text = (name: string): string => found.querySelector(name)?.textContent ?? '';
    const measure = found.closest('measure')?.getAttribute('number') ?? '';
    const part = found.closest('part')?.id ?? '';
    return [part, measure, text('cancel'), text('fifths'), text('mode')].join(' ');
  });
};

describe('files of a piece with several keys', () => {
  it('MusicXML has a key attribute at each change, in every part, naturals told where there are no signs', () => {
    const wanted = ['0  0 major', '3  2 major', '5  -2 major', '6 -2 0 major'];
    expect(keysInXml(musicXml(score))).toEqual(['P1', 'P2'].flatMap(part => wanted.map(k => `${part} ${k}`)));
    expect(keysInXml(musicXml(partScores(score)[1] ?? score))).toEqual(wanted.map(k => `P1 ${k}`));
    expect(musicXml(score).match(/<bar-style>light-light/g)).toHaveLength(6);
  });

  it.runIf(schema !== undefined)('MusicXML is valid against the W3C schema', async () => {
    expect(await schemaErrors(new Map([['keys', musicXml(score)]]))).toEqual([]);
  });

  it('Verovio (an independent reader) finds the notes of the score, and they are those that sound', async () => {
    const reader = await loaded(musicXml(score));
    expect(foundNotes(reader)).toEqual(drawnNotes(score));
    const sounding = perform(score).events.map(
      e => `${((e.seconds * 90) / 60).toFixed(1)} ${String(e.pitch)}`,
    );
    expect(foundStrokes(reader)).toEqual(sounding.sort());
  });

  // By hand: C E G of C5 major, D F♯ A, B♭ D F; the upbeat goes with what it leads to.
  it('sounds by hand what it should', () => {
    const bars = [
      '67',
      '72 76 79 67',
      '72 76 79 69',
      '74 78 81 69',
      '74 78 81 65',
      '70 74 77 67',
      '72 76 79',
    ];
    const struck = (score.parts[0]?.bars ?? []).map((_, b) =>
      perform(score)
        .events.filter(e => e.part === 'p1' && Math.floor((Math.round(e.seconds * 1.5) + 3) / 4) === b)
        .map(e => String(e.pitch - 12))
        .join(' '),
    );
    expect(struck).toEqual(bars);
  });

  it('a MIDI file has a key signature event at each change, to the tick, by an independent parser', () => {
    const found: string[] = [];
    const [first] = parseMidi(standardMidi(score)).tracks;
    let at = 0;
    for (const event of first ?? []) {
      at += event.deltaTime;
      if (event.type === 'keySignature')
        found.push(`${String(at / PPQ)} ${String(event.key)} ${String(event.scale)}`);
    }
    // A crotchet of upbeat, then bars of four.
    expect(found).toEqual(['0 0 0', '9 2 0', '17 -2 0', '21 0 0']);
    expect(first?.at(-1)?.type).toBe('endOfTrack');
  });

  it('MIDI keys stand right beside tempo changes, minor modes, many ticks and repeats', () => {
    const long: Score = scoreOfPlan(
      { ...IDEA, key: key('A', 'minor') },
      {
        ...plan,
        tempi: [{ bar: 2, tempo: 120 }],
        statements: plan.statements.map(s => ({ ...s, times: 40 })),
        keys: [
          { bar: 2, moved: 7 },
          { bar: 39, moved: 0 },
        ],
      },
      '',
      '',
    );
    for (const written of [long, withRepeatBars(long)]) {
      const parsed = parseMidi(standardMidi(written));
      let at = 0;
      const found = (parsed.tracks[0] ?? []).flatMap(event => {
        at += event.deltaTime;
        return event.type === 'keySignature'
          ? [`${String(at / PPQ)} ${String(event.key)} ${String(event.scale)}`]
          : [];
      });
      expect(found).toEqual(['0 0 1', '9 1 1', '157 0 1']);
      expect(parsed.tracks.length).toBe(3);
    }
  });

  it('the words say the key where it changes, in every part', () => {
    const lines = textScore(score);
    expect(lines[0]).toBe('C major, 4/4, crotchet = 90');
    expect(lines.filter(line => line.includes('key now'))).toHaveLength(6);
    expect(lines.find(line => line.includes('Bar 3:'))).toBe(
      'Letter A, key now D major. Bar 3: D5 crotchet; F♯5 crotchet; A5 crotchet; A4 crotchet',
    );
  });

  it('bars to set out, strokes and remedies know the new keys', () => {
    const names = neededToneBars(IDEA, concertSet('xylophone'), plan.statements.slice(0, 1), plan).map(
      b => b.name,
    );
    expect(names).toEqual(['F4', 'G4', 'A4', 'B♭4', 'C5', 'D5', 'E5', 'F5', 'F♯5', 'G5', 'A5']);
    const check = checkPlayable(IDEA, plan, ROOM, () => 0);
    expect(check.parts[0]?.strokes.map(s => s.pitches[0])).toEqual(
      perform(score)
        .events.filter(e => e.part === 'p1')
        .map(e => e.pitch - 12),
    );
    // An octave higher after the letter leaves the xylophone's range: an octave lower mends it, and unmakes nothing.
    const high: Plan = { ...plan, keys: [{ bar: 2, moved: 12 }] };
    const up: Motif = { ...IDEA, notes: IDEA.notes.map(n => ({ ...n, degree: n.degree + 7 })) };
    const problems = checkPlayable(up, high, ROOM, () => 0).parts[0]?.problems ?? [];
    expect(problems.flatMap(p => p.toneBars.map(b => b.name))).toEqual(['E7', 'G7']);
    // G7 comes down to C7, the highest bar, by four steps.
    expect(problems[0]?.remedies).toEqual([
      { kind: 'octave', statement: 's1', octaves: -1 },
      { kind: 'steps', statement: 's1', steps: -4 },
      { kind: 'piece', steps: -4 },
    ]);
  });

  it('a long rest of a part ends where the key changes', () => {
    const [first] = plan.statements;
    if (first === undefined) throw new Error('no statement');
    const rests = scoreOfPlan(
      { ...IDEA, upbeat: fraction(0), notes: IDEA.notes.slice(1) },
      {
        ...plan,
        statements: [
          { ...first, times: 1 },
          { ...first, id: 'x', onset: fraction(6), times: 1 },
        ],
      },
      '',
      '',
    );
    const short = withLongRests(partScores(rests)[0] ?? rests);
    expect(short.parts[0]?.bars.map(b => b.restBars ?? 1)).toEqual([1, 1, 2, 1, 1, 1]);
    expect(short.keys?.map(k => k.bar)).toEqual([2, 3, 4]);
  });
});
