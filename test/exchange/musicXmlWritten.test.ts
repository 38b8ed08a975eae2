import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { fraction, ZERO } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { InstrumentId } from '../../core/instruments/instruments.ts';
import type { PlacedNote } from '../../core/plan/placed.ts';
import { barsNeeded, engravePart } from '../../core/score/engrave.ts';
import type { Score, ScoreBar } from '../../core/score/score.ts';
import { line, metreOf } from '../score/written.ts';

const scoreOf = (
  bars: readonly ScoreBar[],
  more: Partial<Score> = {},
  instrument: InstrumentId = 'vibraphone',
): Score => ({
  title: 'T',
  codeName: '',
  metre: metre(4, 4),
  key: key('C'),
  tempo: 90,
  upbeat: ZERO,
  barCount: bars.length,
  letters: [],
  brackets: [],
  parts: [{ id: 'p1', name: 'Vibraphone', short: 'Vib.', instrument, clef: 'treble', bars }],
  ...more,
});
const xmlOf = (metreText: string, rhythm: string): string =>
  musicXml(scoreOf(line(metreText, rhythm), { metre: metreOf(metreText) })).replace(/>\s+</g, '><');

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
      scoreOf(
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
    const notes = notesIn(musicXml(scoreOf(chord)).replace(/>\s+</g, '><'));
    expect(notes.slice(0, 3).map(n => n.startsWith('<chord/>'))).toEqual([false, true, false]);
    expect(notes.slice(0, 3).map(n => n.includes('<articulations><staccato/></articulations>'))).toEqual([
      true,
      false,
      false,
    ]);
    expect(musicXml(scoreOf(chord))).toMatch(/<dynamics>\s*<ff\s*\/>/);
  });

  it('a grace note has a stroke and no time, and comes before its note only once', () => {
    const grace = { letter: 'D', alter: 1, octave: 5 } as const;
    const xml = musicXml(scoreOf(barOf([placed(1, 'E', 0, { grace, duration: fraction(3, 4) })]))).replace(
      />\s+</g,
      '><',
    );
    const small = notesIn(xml).filter(n => n.includes('<grace slash="yes"/>'));
    expect(small).toHaveLength(1);
    expect(small[0]).not.toContain('<duration>');
    expect(small[0]).toContain('<type>eighth</type>');
    expect(small[0]).toContain('<step>D</step><alter>1</alter><octave>5</octave>');
    expect(small[0]).toContain('<accidental>sharp</accidental>');
  });
});

describe('what stands over and between bars', () => {
  const four = line('4/4', '4 4 4 4');
  const flat = (score: Score): string => musicXml(score).replace(/>\s+</g, '><');
  const measures = (score: Score): string[] =>
    [...flat(score).matchAll(/<measure .*?<\/measure>/g)].map(m => m[0]);

  it('repeat barlines where a repeat begins and ends; how often, when more than twice', () => {
    const bars = measures(
      scoreOf(four, {
        repeats: [
          { bar: 0, bars: 1, times: 2 },
          { bar: 1, bars: 2, times: 3 },
        ],
      }),
    );
    expect(bars.map(b => b.includes('direction="forward"'))).toEqual([true, true, false, false]);
    expect(bars.map(b => b.includes('<bar-style>heavy-light</bar-style>'))).toEqual([
      true,
      true,
      false,
      false,
    ]);
    expect(bars.map(b => /direction="backward" times="(\d)"/.exec(b)?.[1])).toEqual([
      '2',
      undefined,
      '3',
      undefined,
    ]);
    expect(bars.map(b => b.includes('<words>×3</words>'))).toEqual([false, false, true, false]);
    expect(bars[2]).toContain('<direction placement="above"><direction-type><words>×3</words>');
    expect(bars[0]).not.toContain('<words>');
    expect(bars.map(b => b.includes('light-heavy'))).toEqual([true, false, true, true]);
  });

  it('letters, attributes once, and the last barline', () => {
    const bars = measures(scoreOf(four, { letters: [{ bar: 2, letter: 'A' }] }));
    expect(bars.map(b => b.includes('<rehearsal>A</rehearsal>'))).toEqual([false, false, true, false]);
    expect(bars.map(b => b.includes('<attributes>'))).toEqual([true, false, false, false]);
    expect(bars.map(b => b.includes('light-heavy'))).toEqual([false, false, false, true]);
    expect(bars.map(b => /^<measure number="(\d)">/.exec(b)?.[1])).toEqual(['1', '2', '3', '4']);
  });

  it('the metronome has a dot only where its beat has one; nobody is named where nobody is', () => {
    expect(flat(scoreOf(four))).toContain('<beat-unit>quarter</beat-unit><per-minute>');
    const compound = flat(scoreOf(line('6/8', '3 3'), { metre: metreOf('6/8') }));
    expect(compound).toContain('<beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>');
    expect(flat(scoreOf(four))).not.toContain('<creator');
    expect(flat(scoreOf(four, { codeName: 'Heron' }))).toContain('<creator type="composer">Heron</creator>');
  });

  it('an upbeat bar is number 0 and implicit', () => {
    const bars = measures(scoreOf(line('4/4', '1 4', fraction(1, 4)), { upbeat: fraction(1, 4) }));
    expect(bars[0]).toMatch(/^<measure number="0" implicit="yes">/);
    expect(bars[1]).toMatch(/^<measure number="1">/);
  });

  it('a new tempo and words stand at their own place, within a long note too', () => {
    const score = scoreOf(four, {
      tempi: [{ at: fraction(3, 2), tempo: 120 }],
      brackets: [
        { id: 's1', part: 'p1', from: fraction(2), to: fraction(3), text: 'canon' },
        { id: 's2', part: 'p1', from: fraction(11, 4), to: fraction(3), text: 'retrograde' },
        { id: 's3', part: 'p9', from: fraction(2), to: fraction(3), text: 'elsewhere' },
      ],
    });
    const divisions = Number(/<divisions>(\d+)/.exec(flat(score))?.[1]);
    const bars = measures(score);
    expect(bars[1]).toContain(`<offset sound="yes">${String(2 * divisions)}</offset><sound tempo="120"/>`);
    expect(bars[2]).toMatch(/<words>canon<\/words><\/direction-type><\/direction>/);
    expect(bars[2]).toContain(
      `<words>retrograde</words></direction-type><offset>${String(3 * divisions)}</offset>`,
    );
    expect(flat(score)).not.toContain('elsewhere');
  });

  it('key, clef, transposition and mode', () => {
    const minor = flat({ ...scoreOf(four), key: key('G', 'minor') });
    expect(minor).toContain('<fifths>-2</fifths><mode>minor</mode>');
    expect(flat({ ...scoreOf(four), key: key('A', 'minor pentatonic') })).toContain(
      '<fifths>0</fifths><mode>minor</mode>',
    );
    expect(flat({ ...scoreOf(four), key: key('D', 'major pentatonic') })).toContain('<mode>major</mode>');
    expect(flat({ ...scoreOf(four), key: key('D', 'dorian') })).toContain('<mode>dorian</mode>');
    expect(minor).toContain('<sign>G</sign><line>2</line>');
    const [part] = scoreOf(four).parts;
    const low = flat(scoreOf(four, { parts: part === undefined ? [] : [{ ...part, clef: 'bass' }] }));
    expect(low).toContain('<sign>F</sign><line>4</line>');
    expect(minor).not.toContain('<transpose>');
    expect(flat(scoreOf(four, {}, 'xylophone'))).toContain('<octave-change>1</octave-change>');
  });
});
