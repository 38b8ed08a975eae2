import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { fraction, ZERO } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { PlacedNote } from '../../core/plan/placed.ts';
import { barsNeeded, engravePart } from '../../core/score/engrave.ts';
import type { ScoreBar } from '../../core/score/score.ts';
import { line, metreOf } from '../score/written.ts';
import { scoreOfBars } from './scoreOfBars.ts';

const xmlOf = (metreText: string, rhythm: string): string =>
  musicXml(scoreOfBars(line(metreText, rhythm), { metre: metreOf(metreText) })).replace(/>\s+</g, '><');

/** Each note of a document: its elements as text. */
const notesIn = (xml: string): string[] => [...xml.matchAll(/<note>(.*?)<\/note>/g)].map(m => m[1] ?? '');
const beams = (xml: string): string[] =>
  notesIn(xml).map(note =>
    [...note.matchAll(/<beam number="(\d)">([a-z ]+)<\/beam>/g)]
      .map(m => `${m[1] ?? ''} ${m[2] ?? ''}`)
      .join(', '),
  );

// MusicXML 4.0 (W3C), element beam: one for each level, begin, continue, end, forward hook, backward hook.
describe('beams', () => {
  it.each([
    ['four quavers', '4/4', '1/2 1/2 1/2 1/2 2', ['1 begin', '1 continue', '1 continue', '1 end', '']],
    ['dotted quaver, semiquaver', '4/4', '3/4 1/4 1 2', ['1 begin', '1 end, 2 backward hook', '', '']],
    ['semiquaver, dotted quaver', '4/4', '1/4 3/4 1 2', ['1 begin, 2 forward hook', '1 end', '', '']],
    [
      'two semiquavers, quaver',
      '4/4',
      '1/4 1/4 1/2 1 2',
      ['1 begin, 2 begin', '1 continue, 2 end', '1 end', '', ''],
    ],
    [
      'semiquaver, quaver, semiquaver',
      '4/4',
      '1/4 1/2 1/4 1 2',
      ['1 begin, 2 forward hook', '1 continue', '1 end, 2 backward hook', '', ''],
    ],
    [
      'demisemiquavers show their quavers',
      '2/4',
      '1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1',
      [
        '1 begin, 2 begin, 3 begin',
        '1 continue, 2 continue, 3 continue',
        '1 continue, 2 continue, 3 continue',
        '1 continue, 2 end, 3 end',
        '1 continue, 2 begin, 3 begin',
        '1 continue, 2 continue, 3 continue',
        '1 continue, 2 continue, 3 continue',
        '1 end, 2 end, 3 end',
        '',
      ],
    ],
    ['no beam across a rest of a beat', '4/4', '1/2 r1/2 1/2 1/2 2', ['', '', '1 begin', '1 end', '']],
  ] as const)('%s', (_, metreText, rhythm, wanted) => {
    expect(beams(xmlOf(metreText, rhythm)).map(b => b)).toEqual(wanted);
  });
});

// MusicXML 4.0: time-modification on every note of a tuplet, tuplet start and stop on its first and last.
describe('tuplets', () => {
  const edges = (xml: string): string[] =>
    notesIn(xml).map(note =>
      [
        /<actual-notes>(\d+)<\/actual-notes><normal-notes>(\d+)/.exec(note)?.slice(1, 3).join(':') ?? '',
        ...[...note.matchAll(/<tuplet type="(\w+)"( bracket="yes")?\/>/g)].map(
          m => `${m[1] ?? ''}${m[2] ?? ''}`,
        ),
      ].join(' '),
    );

  it('begin and end where they are drawn', () => {
    expect(edges(xmlOf('4/4', '1 1/3 1/3 1/3 2'))).toEqual([
      '',
      '3:2 start bracket="yes"',
      '3:2',
      '3:2 stop',
      '',
    ]);
    expect(edges(xmlOf('4/4', 'r2/3 1/3 1 2'))).toEqual(['3:2 start bracket="yes"', '3:2 stop', '', '']);
    expect(edges(xmlOf('4/4', '1/5 1/5 1/5 1/5 1/5 1 2')).slice(0, 5)).toEqual([
      '5:4 start bracket="yes"',
      '5:4',
      '5:4',
      '5:4',
      '5:4 stop',
    ]);
  });
});

describe('durations', () => {
  it.each([
    ['4/4', '3/4 1/4 1/3 1/3 1/3 r2'],
    ['6/8', '1/2 1/4 1/4 1/2 3/2'],
    ['7/8', '1 1 3/2'],
    ['4/4', '7/2 1/2 4 1 3'],
  ])('of each bar of %s add up to it, in divisions of a crotchet', (metreText, rhythm) => {
    const xml = xmlOf(metreText, rhythm);
    const divisions = Number(/<divisions>(\d+)<\/divisions>/.exec(xml)?.[1]);
    const m = metreOf(metreText);
    for (const [, bar = ''] of xml.matchAll(/<measure [^>]*>(.*?)<\/measure>/g)) {
      const sum = [...bar.matchAll(/<duration>(\d+)<\/duration>/g)].reduce((so, d) => so + Number(d[1]), 0);
      expect(sum).toBe((divisions * 4 * m.upper) / m.lower);
    }
  });

  it('ties are heard and seen, from the first to the last', () => {
    const tied = notesIn(xmlOf('4/4', '1 3')).map(note => [
      [...note.matchAll(/<tie type="(\w+)"\/>/g)].map(m => m[1]).join(' '),
      [...note.matchAll(/<tied type="(\w+)"\/>/g)].map(m => m[1]).join(' '),
    ]);
    expect(tied).toEqual([
      ['', ''],
      ['start', 'start'],
      ['stop', 'stop'],
    ]);
    expect(xmlOf('4/4', '1/2 5/2 1')).not.toContain('<tie type="stop"/><voice>1</voice><type>whole');
  });

  it('a bar of rest is a measure rest without a type', () => {
    const [rest = ''] = notesIn(xmlOf('4/4', 'r4'));
    expect(rest).toContain('<rest measure="yes"/>');
    expect(rest).not.toContain('<type>');
    const [short = ''] = notesIn(xmlOf('4/4', 'r1 3'));
    expect(short).toContain('<rest/>');
    expect(short).toContain('<type>quarter</type>');
  });
});

const barOf = (notes: readonly PlacedNote[], k = key('C')): readonly ScoreBar[] => {
  const m = metre(4, 4);
  return engravePart({ metre: m, key: k, upbeat: ZERO, bars: barsNeeded(m, notes) }, notes);
};
const placed = (
  onset: number,
  letter: PlacedNote['pitch']['letter'],
  alter: number,
  more: Partial<PlacedNote> = {},
): PlacedNote => ({
  onset: fraction(onset, 4),
  duration: fraction(1, 4),
  pitch: { letter, alter, octave: 4 },
  ref: '',
  ...more,
});

describe('what stands at a note', () => {
  it('accidentals by name, a reminder in brackets; alterations always', () => {
    const xml = musicXml(
      scoreOfBars(
        barOf([
          placed(0, 'F', 1),
          placed(1, 'B', -1),
          placed(2, 'C', 2),
          placed(3, 'E', -2),
          placed(4, 'F', 0),
          placed(5, 'G', 0),
        ]),
      ),
    ).replace(/>\s+</g, '><');
    expect(
      notesIn(xml).flatMap(n => /<accidental[^>]*>[a-z-]+/.exec(n)?.[0].replace('<accidental', '') ?? []),
    ).toEqual([
      '>sharp',
      '>flat',
      '>double-sharp',
      '>flat-flat',
      ' cautionary="yes" parentheses="yes">natural',
    ]);
    expect([...xml.matchAll(/<alter>(-?\d)<\/alter>/g)].map(m => m[1])).toEqual(['1', '-1', '2', '-2']);
  });

  it('a chord is one time: its second head says so, and the marks stand at the first', () => {
    const chord = barOf([
      placed(0, 'C', 0, { articulation: 'staccato' }),
      placed(0, 'G', 0),
      placed(1, 'E', 0, { dynamic: 'ff', duration: fraction(3, 4) }),
    ]);
    const notes = notesIn(musicXml(scoreOfBars(chord)).replace(/>\s+</g, '><'));
    expect(notes.slice(0, 3).map(n => n.startsWith('<chord/>'))).toEqual([false, true, false]);
    expect(notes.slice(0, 3).map(n => n.includes('<articulations><staccato/></articulations>'))).toEqual([
      true,
      false,
      false,
    ]);
    expect(musicXml(scoreOfBars(chord))).toMatch(/<dynamics>\s*<ff\s*\/>/);
  });

  it('a grace note has a stroke and no time, and comes before its note only once', () => {
    const grace = { letter: 'D', alter: 1, octave: 5 } as const;
    const xml = musicXml(
      scoreOfBars(barOf([placed(1, 'E', 0, { grace, duration: fraction(3, 4) })])),
    ).replace(/>\s+</g, '><');
    const small = notesIn(xml).filter(n => n.includes('<grace slash="yes"/>'));
    expect(small).toHaveLength(1);
    expect(small[0]).not.toContain('<duration>');
    expect(small[0]).toContain('<type>eighth</type>');
    expect(small[0]).toContain('<step>D</step><alter>1</alter><octave>5</octave>');
    expect(small[0]).toContain('<accidental>sharp</accidental>');
  });
});
