import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { drawnNotes, foundNotes, loaded } from '../exchange/byVerovio.ts';
import { schema, schemaErrors } from '../exchange/w3cSchema.ts';
import { scoreOf } from './situation.ts';
import { SITUATIONS } from './situations/index.ts';

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
      const reader = await loaded(musicXml(score));
      expect(foundNotes(reader)).toEqual(drawnNotes(score));
    },
  );
});
