import { Window } from 'happy-dom';
import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { partScores } from '../../core/exchange/partScores.ts';
import { channelVolume, standardMidi } from '../../core/exchange/standardMidi.ts';
import { toNumber } from '../../core/foundation/fraction.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import type { Score } from '../../core/score/score.ts';
import { IDEA, pieceOfFour, planOfFour } from './pieces.ts';
import { schema, schemaErrors } from './w3cSchema.ts';

/** Letters at bars 2 and 4, a new tempo at bar 3, marks on statements, and parts that are not equally loud. */
const marked = (): Score => {
  const plan = planOfFour();
  return scoreOfPlan(
    IDEA,
    {
      ...plan,
      parts: plan.parts.map((part, i) => (i === 1 ? { ...part, balance: -12 } : part)),
      letters: [
        { bar: 1, letter: 'A' },
        { bar: 3, letter: 'B' },
      ],
      tempi: [{ bar: 2, tempo: 120 }],
      statements: plan.statements.map((s, i) =>
        i === 0
          ? { ...s, dynamic: 'p' as const, articulation: 'staccato' as const }
          : { ...s, dynamic: 'f' as const },
      ),
    },
    'Ferry bell',
    'Heron',
  );
};

interface Found {
  readonly part: string;
  /** In semibreves from the first bar. */
  readonly at: number;
  readonly what: string;
}

/** What stands where in a MusicXML document: walks it as the specification counts time. */
const directionsIn = (text: string): readonly Found[] => {
  const window = new Window();
  const tree = new window.DOMParser().parseFromString(text.replace(/<!DOCTYPE[^>]*>/, ''), 'application/xml');
  const found: Found[] = [];
  for (const part of tree.querySelectorAll('part')) {
    let at = 0;
    let divisions = 1;
    for (const element of part.querySelectorAll('measure > *')) {
      const number = (name: string): number => Number(element.querySelector(name)?.textContent ?? 0);
      if (element.tagName === 'attributes') divisions = number('divisions');
      if (element.tagName === 'note') {
        for (const mark of element.querySelectorAll('articulations > *'))
          found.push({ part: part.id, at, what: mark.tagName });
        if (element.querySelector('chord, grace') === null) at += number('duration') / divisions / 4;
      }
      if (element.tagName !== 'direction') continue;
      const here = at + number('offset') / divisions / 4;
      for (const words of element.querySelectorAll('words'))
        found.push({ part: part.id, at: here, what: `words ${words.textContent}` });
      for (const letter of element.querySelectorAll('rehearsal'))
        found.push({ part: part.id, at: here, what: `letter ${letter.textContent}` });
      for (const loud of element.querySelectorAll('dynamics > *'))
        found.push({ part: part.id, at: here, what: `loud ${loud.tagName}` });
      const sound = element.querySelector('sound[tempo]');
      if (sound !== null) {
        found.push({ part: part.id, at: here, what: `sound ${sound.getAttribute('tempo') ?? ''}` });
        found.push({ part: part.id, at: here, what: `mark ${String(number('per-minute'))}` });
      }
    }
  }
  return found;
};

const told = (list: readonly Found[]): string[] =>
  list.map(({ part, at, what }) => `${part} ${at.toFixed(4)} ${what}`).sort();

describe('MusicXML', () => {
  const score = marked();
  const xml = musicXml(score);
  const found = directionsIn(xml);
  const idOf = (part: string): string => `P${String(score.parts.findIndex(p => p.id === part) + 1)}`;
  const only = (start: string): readonly Found[] => found.filter(f => f.what.startsWith(start));

  it.runIf(schema !== undefined)('with all of it is valid against the W3C schema', async () => {
    expect(await schemaErrors(new Map([['marked', xml]]))).toEqual([]);
  });

  it('names each statement in words where it begins, in its own part', () => {
    expect(score.brackets).toHaveLength(4);
    expect(told(only('words'))).toEqual(
      told(score.brackets.map(b => ({ part: idOf(b.part), at: toNumber(b.from), what: `words ${b.text}` }))),
    );
  });

  it('has metronome mark and sound at the start and at bar 3, once, in the first part', () => {
    expect(told([...only('sound'), ...only('mark')])).toEqual(
      told([
        { part: 'P1', at: 0, what: 'sound 92' },
        { part: 'P1', at: 0, what: 'mark 92' },
        { part: 'P1', at: 2, what: 'sound 120' },
        { part: 'P1', at: 2, what: 'mark 120' },
      ]),
    );
  });

  it('has each rehearsal letter once, over the system: in the first part', () => {
    expect(told(only('letter'))).toEqual(
      told(
        ['P1'].flatMap(part => [
          { part, at: 1, what: 'letter A' },
          { part, at: 3, what: 'letter B' },
        ]),
      ),
    );
  });

  it('has each dynamic and articulation of the score in its place', () => {
    const symbols = score.parts.flatMap(part =>
      part.bars.flatMap(bar => bar.symbols.map(symbol => ({ part: idOf(part.id), symbol }))),
    );
    const dynamics = symbols.flatMap(({ part, symbol }) =>
      symbol.dynamic === undefined
        ? []
        : [{ part, at: toNumber(symbol.onset), what: `loud ${symbol.dynamic}` }],
    );
    const marks = symbols.flatMap(({ part, symbol }) =>
      symbol.articulation === undefined || symbol.tiedFrom
        ? []
        : [{ part, at: toNumber(symbol.onset), what: symbol.articulation }],
    );
    expect(dynamics.length).toBeGreaterThanOrEqual(4);
    expect(marks.length).toBeGreaterThan(10);
    expect(told(only('loud'))).toEqual(told(dynamics));
    expect(told(only('staccato'))).toEqual(told(marks));
  });

  it('gives each part its sound, and the octaves it sounds above what is written', () => {
    // MusicXML 4.0 sounds list; xylophone an octave up, glockenspiel two (orchestration handbooks).
    expect([...xml.matchAll(/<instrument-sound>([^<]*)</g)].map(([, sound]) => sound)).toEqual([
      'pitched-percussion.xylophone',
      'pitched-percussion.glockenspiel',
      'pitched-percussion.marimba',
      'pitched-percussion.vibraphone',
    ]);
    const octaves = [...xml.matchAll(/<part id[\s\S]*?<\/part>/g)].map(
      ([part]) => /<octave-change>(\d)</.exec(part)?.[1],
    );
    expect(octaves).toEqual(['1', '2', undefined, undefined]);
  });

  it('says the balance of parts as volume, and nothing where they are even', () => {
    const volumes = [...xml.matchAll(/<volume>([^<]*)</g)].map(([, v]) => Number(v));
    expect(volumes).toHaveLength(4);
    expect(20 * Math.log10((volumes[1] ?? 0) / (volumes[0] ?? 1))).toBeCloseTo(-12, 1);
    expect(musicXml(pieceOfFour())).not.toContain('<volume>');
  });
});

describe('balance in a MIDI file', () => {
  it('is channel volume, which midi-file reads back; files without balance have none', () => {
    const volumes = (score: Score): number[] =>
      parseMidi(standardMidi(score)).tracks.flatMap(track =>
        track.flatMap(e => (e.type === 'controller' && e.controllerType === 7 ? [e.value] : [])),
      );
    // 40 log10(v/127) dB (GM recommended practice, from memory): 90 to 45 is 12 dB.
    expect(volumes(marked())).toEqual([90, 45, 90, 90]);
    expect(volumes(pieceOfFour())).toEqual([]);
    expect([channelVolume(6), channelVolume(-24), channelVolume(60)]).toEqual([127, 23, 127]);
  });
});

describe('scores for players', () => {
  it('hold one part each, its own brackets, and every letter and tempo', () => {
    const score = marked();
    const own = partScores(score);
    expect(own.map(s => s.parts.map(p => p.id))).toEqual(score.parts.map(p => [p.id]));
    expect(own.flatMap(s => s.brackets)).toHaveLength(4);
    for (const s of own) {
      expect(s.brackets.every(b => b.part === s.parts[0]?.id)).toBe(true);
      expect([s.letters, s.tempi, s.barCount]).toEqual([score.letters, score.tempi, score.barCount]);
    }
  });
});
