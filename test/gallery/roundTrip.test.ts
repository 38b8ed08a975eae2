import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { drawnNotes, foundNotes, loaded } from '../exchange/byVerovio.ts';
import { schema, schemaErrors } from '../exchange/w3cSchema.ts';
import { scoreOf } from './situation.ts';
import { SITUATIONS } from './situations/index.ts';

/** The small note where a line leads to none. */
const SMALL_END = /<note>\s*<grace steal-time-previous="0"\/>[\s\S]*?<\/note>/g;
const scores = SITUATIONS.map(s => [s.id, scoreOf(s)] as const);

describe('every situation of the gallery as MusicXML', () => {
  it.runIf(schema !== undefined)('is valid against the W3C schema', async () => {
    const documents = new Map(scores.map(([id, score]) => [id, musicXml(score)]));
    expect(documents.size).toBeGreaterThanOrEqual(60);
    expect(await schemaErrors(documents)).toEqual([]);
  });

  it.each(scores)(
    '%s: Verovio (an independent reader) finds the same onsets, lengths and pitches',
    async (_id, score) => {
      // It sounds the small head at the end of a line as if it led to what follows; that it finds the line is tried below.
      const reader = await loaded(musicXml(score).replaceAll(SMALL_END, ''));
      expect(foundNotes(reader)).toEqual(drawnNotes(score));
    },
  );

  it('Verovio finds each line of a glissando between its two heads', async () => {
    const score = scores.find(([id]) => id === 'gliss-signs')?.[1];
    if (score === undefined) throw new Error('the situation is gone');
    const mei = (await loaded(musicXml(score))).getMEI({});
    const pitchOf = (id: string | undefined): string => {
      const note = new RegExp(`<note xml:id="${id ?? ''}"[^>]*>`).exec(mei)?.[0] ?? '';
      const of = (name: string): string => new RegExp(` ${name}="([^"]*)"`).exec(note)?.[1] ?? '';
      return `${of('pname')}${of('oct')}${of('grace') === '' ? '' : ` small ${of('head.mod')}`}`;
    };
    const lines = [...mei.matchAll(/<gliss [^>]*startid="#(\w+)"[^>]*endid="#(\w+)"/g)];
    expect(lines.map(([, from, to]) => `${pitchOf(from)} to ${pitchOf(to)}`)).toEqual([
      'f4 to b5',
      'b5 to f4 small paren',
      'c5 to g5 small paren',
    ]);
  });
});
