import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import type { Score } from '../../core/score/score.ts';
import { IDEA } from '../plan/motifs.ts';
import { drawnNotes, foundNotes, loaded } from './byVerovio.ts';
import { schema, schemaErrors } from './w3cSchema.ts';

const plan = firstPlan('marimba', 90);
const GRACED = {
  ...IDEA,
  notes: IDEA.notes.map((n, i) => (i === 0 ? { ...n, grace: { degree: 36, alter: 0 } } : n)),
};
const scoreFrom = (idea: Motif): Score =>
  scoreOfPlan(
    idea,
    {
      ...plan,
      statements: plan.statements.flatMap(s => [
        {
          ...s,
          times: 2,
          dynamic: 'p' as const,
          hairpin: 'crescendo' as const,
          slurred: true as const,
          fermata: true as const,
          ritardando: true as const,
          words: 'dreamily & <soft>',
        },
        { ...s, id: 's2', onset: fraction(2), hairpin: 'diminuendo' as const },
      ]),
    },
    'Marks',
    'Heron',
  );
const score = scoreFrom(GRACED);
const xml = musicXml(score);
const count = (text: string, what: RegExp): number => [...text.matchAll(what)].length;

describe('marks of phrases in files', () => {
  it.runIf(schema !== undefined)('are valid MusicXML by the W3C schema', async () => {
    expect(await schemaErrors(new Map([['marks', xml]]))).toEqual([]);
  });

  it('are read by Verovio: slurs, hairpins, a fermata, words; and the notes are the same', async () => {
    const reader = await loaded(xml);
    const mei = reader.getMEI({});
    // Two slurs of phrases, and one from each of the three grace notes.
    expect(count(mei, /<slur /g)).toBe(2 + 3);
    expect([...mei.matchAll(/<hairpin [^>]*form="(\w+)"/g)].map(m => m[1])).toEqual(['cres', 'dim']);
    expect(count(mei, /<fermata /g)).toBe(1);
    expect(mei).toContain('dreamily &amp; &lt;soft&gt;');
    expect(mei).toContain('rit.');
    expect(mei).toContain('a tempo');
    const plain = scoreFrom(IDEA);
    expect(foundNotes(await loaded(musicXml(plain)))).toEqual(drawnNotes(plain));
  });

  it('slurs of phrases and of grace notes have numbers of their own, for they meet at one note', () => {
    const slurs = [...xml.matchAll(/<slur type="(\w+)" number="(\d)"/g)].map(
      m => `${m[1] ?? ''} ${m[2] ?? ''}`,
    );
    expect(slurs.filter(s => s.endsWith('1'))).toHaveLength(6);
    expect(slurs.filter(s => s.endsWith('2'))).toEqual(['start 2', 'stop 2', 'start 2', 'stop 2']);
  });

  it('a wedge ends in the bar and at the note where it ends', () => {
    const measures = xml.split('<measure ').slice(1);
    expect(measures.map(m => [...m.matchAll(/<wedge type="(\w+)"/g)].map(f => f[1]).join(' '))).toEqual([
      'crescendo',
      'stop',
      'diminuendo stop',
    ]);
    expect(measures[1]).toMatch(
      /<\/note>\s*<direction[^>]*>\s*<direction-type>\s*<wedge type="stop"\/>[\s\S]*<\/measure>/,
    );
  });

  it('are said in words', () => {
    const [, , one, two, three] = textScore(score);
    expect(one).toContain('“dreamily & <soft>”, piano, grace note');
    expect(one).toContain('crescendo from here, slur begins');
    expect(two).toMatch(/^slowing down \(ritardando\) from beat 1\. /);
    expect(two).toMatch(/up to here, slur ends, held \(fermata\)$/);
    expect(three).toMatch(/^in tempo again from beat 1\. /);
    expect(three).toContain('diminuendo from here');
  });
});
