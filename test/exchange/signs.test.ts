import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import { isWritable, key, MODE_NAMES, signature, writableTonics } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { isDoubleAfter } from '../../core/score/barline.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import type { Score } from '../../core/score/score.ts';
import { loaded } from './byVerovio.ts';
import { schema, schemaErrors } from './w3cSchema.ts';

const motif: Motif = {
  key: key('C'),
  metre: metre(4, 4),
  length: fraction(1),
  notes: [28, 29, 30, 31].map((degree, i) => ({
    onset: fraction(i, 4),
    duration: fraction(1, 4),
    degree,
    alter: 0,
    ...(i === 2 ? { grace: { degree, alter: 0 } } : {}),
  })),
};
const plan: Plan = {
  ...firstPlan('xylophone', 96),
  parts: [
    { id: 'p1', instrument: 'xylophone' },
    { id: 'p2', instrument: 'marimba' },
  ],
  statements: ['p1', 'p2'].map(part => ({ id: part, part, onset: fraction(0), chain: [], times: 5 })),
  letters: [
    { bar: 0, letter: 'A' },
    { bar: 2, letter: 'B' },
  ],
  tempi: [{ bar: 4, tempo: 60 }],
};
const swung: Motif = { ...motif, swing: { ratio: 2, unit: fraction(1, 8) } };
const scoreOf = (of: Motif = motif): Score => scoreOfPlan(of, plan, 'Signs', '');

describe('double barlines', () => {
  it('stand before a rehearsal letter and a new tempo, nowhere else', () => {
    const score = scoreOf();
    expect([0, 1, 2, 3, 4].map(i => isDoubleAfter(score, i))).toEqual([false, true, false, true, false]);
  });

  it('give way to repeat barlines', () => {
    const at = (bar: number, bars: number) => ({ ...scoreOf(), repeats: [{ bar, bars, times: 2 }] });
    expect(isDoubleAfter(at(2, 1), 1)).toBe(false);
    expect(isDoubleAfter(at(1, 1), 1)).toBe(false);
    expect(isDoubleAfter(at(0, 1), 1)).toBe(true);
  });

  it('are counted with the upbeat bar', () => {
    const upbeat: Motif = {
      ...motif,
      upbeat: fraction(1, 4),
      notes: motif.notes.map(n => ({ ...n, onset: fraction(n.onset.n * 4 - n.onset.d, n.onset.d * 4) })),
    };
    const score = scoreOf(upbeat);
    expect([0, 1, 2, 3, 4, 5].filter(i => isDoubleAfter(score, i))).toEqual([0, 2, 4]);
  });
});

describe('signs in MusicXML, as Verovio (an independent reader) takes them', () => {
  it('double barlines, one rehearsal mark a letter, the bracket, a slur for each grace note, swing in words', async () => {
    const xml = musicXml(scoreOf(swung));
    const mei = (await loaded(xml)).getMEI({});
    expect(mei.match(/right="dbl"/g)).toHaveLength(2);
    expect(mei.match(/right="end"/g)).toHaveLength(1);
    expect(mei.match(/<reh\b/g)).toHaveLength(2);
    expect(mei).toMatch(/<staffGrp[^>]*bar.thru="true"[^>]*>\s*<grpSym[^>]*symbol="bracket"/);
    expect(mei.match(/<slur\b/g)).toHaveLength(10);
    expect(mei).toContain('swung quavers, 2 : 1');
    expect(xml).toMatch(/<sound[^>]*>\s*<swing>/);
  });

  it.skipIf(schema === undefined)('are valid by the W3C schema', async () => {
    expect(await schemaErrors(new Map([['signs', musicXml(scoreOf(swung))]]))).toEqual([]);
  });

  it('a score of one part has no bracket', () => {
    expect(musicXml(scoreOfPlan(motif, firstPlan('xylophone', 90), '', ''))).not.toContain('part-group');
  });
});

describe('signs in MIDI, as midi-file (an independent parser) takes them', () => {
  const head = (of: Motif) =>
    parseMidi(standardMidi(scoreOfPlan(of, firstPlan('xylophone', 90), 'ÿX\u0004 bell', ''))).tracks[0] ?? [];

  // Standard MIDI File 1.0, FF 58: its example for 6/8 has 36 clocks for the dotted crotchet (from memory).
  it.each([
    [4, 4, 24],
    [3, 4, 24],
    [2, 2, 48],
    [6, 8, 36],
    [9, 8, 36],
    [12, 8, 36],
    [5, 8, 12],
    [7, 8, 12],
    [3, 8, 36],
  ])('%d/%d clicks every %d clocks', (upper, lower, clocks) => {
    const time = head({ ...motif, metre: metre(upper, lower) }).find(e => e.type === 'timeSignature');
    expect(time).toMatchObject({ numerator: upper, denominator: lower, metronome: clocks, thirtyseconds: 8 });
  });

  it('the key signature is the page’s, in every key a page can hold', () => {
    let seen = 0;
    for (const mode of MODE_NAMES) {
      for (const tonic of writableTonics(mode)) {
        const k = { tonic, mode };
        expect(isWritable(k)).toBe(true);
        const found = head({ ...motif, key: k }).find(e => e.type === 'keySignature');
        const minor = /minor|dorian|phrygian/.test(mode);
        expect(found).toMatchObject({ key: signature(k), scale: minor ? 1 : 0 });
        seen += 1;
      }
    }
    expect(seen).toBe(150);
  });
});
