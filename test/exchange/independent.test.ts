import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { toNumber } from '../../core/foundation/fraction.ts';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { PPQ, standardMidi } from '../../core/exchange/standardMidi.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { notesOf } from '../../core/playback/perform.ts';
import { add } from '../../core/foundation/fraction.ts';
import type { Score } from '../../core/score/score.ts';
import { drawnNotes, foundNotes, foundStrokes, loaded } from './byVerovio.ts';
import { others, pieceOfFour } from './pieces.ts';
import { schema, schemaErrors } from './w3cSchema.ts';

const scores: readonly (readonly [string, Score])[] = [
  ['four parts', pieceOfFour()],
  ...others().map((score, i) => [`another ${String(i + 1)}`, score] as const),
];

/** A swung position by hand: the first of two equal values takes ratio/(1 + ratio) of the pair. */
const swungByHand = (
  at: number,
  swing: { readonly ratio: number; readonly unit: { n: number; d: number } } | undefined,
): number => {
  if (swing === undefined) return at;
  const pair = (2 * swing.unit.n) / swing.unit.d;
  const start = Math.floor(at / pair + 1e-9) * pair;
  const share = (at - start) / pair;
  const first = swing.ratio / (1 + swing.ratio);
  return start + pair * (share <= 0.5 ? share * 2 * first : first + (share - 0.5) * 2 * (1 - first));
};

describe('MusicXML', () => {
  it.runIf(schema !== undefined).each(scores)('is valid against the W3C schema: %s', async (_name, score) => {
    expect(await schemaErrors(new Map([['score', musicXml(score)]]))).toEqual([]);
  });

  it.each(scores)(
    'read by Verovio (an independent reader) has the same onsets, lengths and pitches: %s',
    async (_name, score) => {
      const reader = await loaded(musicXml(score));
      expect(foundNotes(reader)).toEqual(drawnNotes(score));
      // Its own MIDI joins tied notes and sounds transpositions: as many notes, on the same ticks.
      const wanted = score.parts
        .flatMap(part => notesOf(part, score.upbeat))
        .map(n => `${(toNumber(n.onset) * 4).toFixed(1)} ${String(n.sounding)}`);
      expect(foundStrokes(reader)).toEqual(wanted.sort());
    },
  );

  it('carries what makes it safe to open elsewhere: escaped text, transpositions, sounds, swing in lowest terms', () => {
    const xml = musicXml(pieceOfFour());
    expect(xml).toContain('<work-title>Ferry bell &lt;&amp;&gt;</work-title>');
    expect(xml).toContain('<octave-change>2</octave-change>');
    expect(xml).toContain('<instrument-sound>pitched-percussion.glockenspiel</instrument-sound>');
    expect(xml).toContain('<rehearsal>A</rehearsal>');
    expect(xml).toContain('<words>canon, one beat later, three times</words>');
    const swungXml = musicXml(others()[3] ?? pieceOfFour());
    expect(swungXml.replace(/\s+/g, '')).toContain(
      '<swing><first>2</first><second>1</second><swing-type>eighth</swing-type></swing>',
    );
  });
});

describe('standard MIDI file', () => {
  it.each(scores)('read by midi-file (an independent parser) agrees to the tick: %s', (_name, score) => {
    const parsed = parseMidi(standardMidi(score));
    expect(parsed.header.ticksPerBeat).toBe(PPQ);
    const found: string[] = [];
    let metreSeen = '';
    let tempo = 0;
    for (const track of parsed.tracks) {
      let at = 0;
      const open = new Map<number, number>();
      for (const event of track) {
        at += event.deltaTime;
        if (event.type === 'timeSignature')
          metreSeen = `${String(event.numerator)}/${String(event.denominator)}`;
        if (event.type === 'setTempo') tempo = event.microsecondsPerBeat;
        if (event.type === 'noteOn' && event.velocity > 0) open.set(event.noteNumber, at);
        else if (event.type === 'noteOff' || event.type === 'noteOn') {
          found.push(`${String(open.get(event.noteNumber))} ${String(at)} ${String(event.noteNumber)}`);
        }
      }
      expect(track.at(-1)?.type).toBe('endOfTrack');
    }
    const tick = (at: { n: number; d: number }): number =>
      Math.round(
        (swungByHand(toNumber(at) - toNumber(score.upbeat), score.swing) + toNumber(score.upbeat)) * 4 * PPQ,
      );
    const wanted = score.parts
      .flatMap(part => notesOf(part, score.upbeat))
      .map(n => `${String(tick(n.onset))} ${String(tick(add(n.onset, n.duration)))} ${String(n.sounding)}`);
    expect(found.sort()).toEqual(wanted.sort());
    expect(metreSeen).toBe(`${String(score.metre.upper)}/${String(score.metre.lower)}`);
    const beat = score.metre.lower === 8 && score.metre.upper === 6 ? 1.5 : score.metre.lower === 8 ? 0.5 : 1;
    expect(Math.abs(tempo - 60e6 / (score.tempo * beat))).toBeLessThanOrEqual(1);
  });
});

describe('channels of a standard MIDI file', () => {
  it('each part has its own, and none the tenth, where General MIDI 1 has drums', () => {
    const [only] = pieceOfFour().parts;
    if (only === undefined) throw new Error('no part');
    const score: Score = {
      ...pieceOfFour(),
      brackets: [],
      parts: Array.from({ length: 12 }, (_, i) => ({
        ...only,
        id: `p${String(i)}`,
        name: `Café ${String(i)}`,
      })),
    };
    const [, ...tracks] = parseMidi(standardMidi(score)).tracks;
    const channels = tracks.map(track => [
      ...new Set(track.flatMap(event => ('channel' in event ? [event.channel] : []))),
    ]);
    expect(channels).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 10, 11, 12].map(channel => [channel]));
    // Names are written as UTF-8: the bytes of é are C3 A9.
    const named = tracks[0]?.find(event => event.type === 'trackName');
    expect(named?.type === 'trackName' ? named.text : '').toBe('Caf\u00c3\u00a9 0');
  });
});

describe('what a byte cannot say in a standard MIDI file', () => {
  it('half a surrogate pair in a title is the sign for a missing character, as the platform writes it', () => {
    for (const title of ['\ud83c', 'a\udfb5b', '\u{1d11e} \u266f']) {
      const [first] = parseMidi(standardMidi({ ...pieceOfFour(), title })).tracks;
      const named = first?.find(event => event.type === 'trackName');
      const bytes = Uint8Array.from(named?.type === 'trackName' ? named.text : '', c => c.charCodeAt(0));
      expect([...bytes]).toEqual([...new TextEncoder().encode(title)]);
    }
  });

  it('a click of more than 255 clocks is as long as can be said: 6/1 in two groups of three', () => {
    const metre = { upper: 6, lower: 1, groups: [3, 3] };
    const [first] = parseMidi(standardMidi({ ...pieceOfFour(), metre })).tracks;
    expect(first?.find(event => event.type === 'timeSignature')).toMatchObject({
      numerator: 6,
      denominator: 1,
      metronome: 255,
    });
  });
});

describe('text score', () => {
  it('says what the page shows, bar by bar', () => {
    const lines = textScore(others()[1] ?? pieceOfFour());
    expect(lines).toEqual([
      'D minor, 3/4, crotchet = 76',
      'Xylophone',
      'Bar 1: quaver rest; D5 quaver; E5 quaver; C5 quaver; D5 quaver; quaver rest',
    ]);
    expect(textScore(others()[1] ?? pieceOfFour(), 'american')[2]).toContain('eighth note rest');
  });
});
