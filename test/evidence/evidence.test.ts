import { describe, expect, it } from 'vitest';
import { composingLog, type LogPart } from '../../core/evidence/composingLog.ts';
import { evidenceSheet } from '../../core/evidence/evidenceSheet.ts';
import { lengthWords, minutes } from '../../core/evidence/lengthWords.ts';
import { fraction, toNumber } from '../../core/foundation/fraction.ts';
import { grow } from '../../core/growing/grow.ts';
import { motifOf, type Piece, planOf } from '../../core/piece/piece.ts';
import { metre } from '../../core/foundation/metre.ts';
import { key } from '../../core/foundation/key.ts';
import { pieceOf, SCALE, takeOf } from '../desk/pieces.ts';

const day = (iso: string): string => iso.slice(0, 10);
const said = (piece: Piece, part: LogPart): string[] =>
  composingLog(piece, day)
    .filter(entry => entry.part === part)
    .map(entry => entry.words);

/** A piece whose idea is stated four times. */
const grown = (piece: Piece): Piece => {
  const used = { ...piece, motifBars: { from: 0, to: 1 } };
  const plan = grow(motifOf(used), planOf(used), { kind: 'repeat', statement: 's1', times: 4 });
  if (!plan.ok) throw new Error(plan.problem.what);
  return { ...used, plan: plan.value.plan };
};

describe('the composing log', () => {
  it('tells what was played, and what the app worked out of it', () => {
    const piece = pieceOf(SCALE);
    // Six strikes at crotchet = 120, the last on beat 6 counted from nought: three seconds after the first.
    expect(said(piece, 'played')).toEqual([
      '6 strikes in 3 seconds on a MIDI device, as a xylophone, to a click, on 2026-01-01. They are kept as they were played.',
    ]);
    const [rhythm, keyWords] = said(piece, 'worked out');
    expect(rhythm).toMatch(
      /^The rhythm, from the strikes: .*, in 4\/4, at about crotchet = 120; it held this to be right \d+ times in 100\.$/,
    );
    expect(keyWords).toMatch(/^The key, from the notes: C/);
    expect(said(piece, 'mended by hand')).toEqual([]);
    expect(said(piece, 'chosen')).toEqual([]);
  });

  it('tells everything that was mended by hand, and nothing that was not', () => {
    const piece: Piece = {
      ...pieceOf(SCALE),
      hints: {
        metre: metre(3, 4),
        tempo: 92.4,
        grid: 'half',
        taps: [0, 0.5, 1],
        firstBeatStrike: 1,
        letRing: true,
        pins: [{ strike: 0, onset: fraction(0) }],
      },
      edits: [
        { kind: 'rest', note: 1 },
        { kind: 'rest', note: 2 },
        { kind: 'pitch', note: 3, pitch: 70 },
      ],
      key: key('F'),
      keyChosen: true,
    };
    expect(said(piece, 'mended by hand')).toEqual([
      'The metre was set to 3/4.',
      'The tempo was set to 92.',
      'The smallest value was chosen.',
      'The beat was tapped: 3 taps.',
      'The first beat was set.',
      'Short notes were left to ring.',
      'The key was chosen: F major.',
      '1 note was put in place, and what follows from it.',
      '2 notes were made a rest.',
      '1 note was given another pitch.',
    ]);
    expect(said(piece, 'worked out').join(' ')).not.toContain('The key');
  });

  it('does not call what the reader chooses a choice', () => {
    const piece: Piece = { ...pieceOf(SCALE), hints: { grid: 'automatic', letRing: false } };
    expect(said(piece, 'mended by hand')).toEqual([]);
  });

  it('names every statement with its part and bars, letters and tempi, and notes apart from the idea', () => {
    const piece = grown(pieceOf(SCALE));
    const plan = planOf(piece);
    const [first] = plan.statements;
    if (first === undefined) throw new Error('a plan has a statement');
    const more: Piece = {
      ...piece,
      plan: {
        ...plan,
        letters: [{ bar: 2, letter: 'A' }],
        tempi: [{ bar: 2, tempo: 140 }],
        statements: [{ ...first, detached: motifOf(piece).notes }],
      },
    };
    expect(said(piece, 'chosen')).toEqual(['Xylophone, bars 1 to 4: the motif, four times.']);
    expect(said(more, 'chosen').slice(-3)).toEqual([
      'In 1 statement notes were changed by hand, apart from the idea.',
      'Letter A stands at bar 3.',
      'From bar 3 the tempo is 140.',
    ]);
    expect(said(piece, 'worked out').at(-1)).toContain('No note was made up');
  });

  it('numbers bars as the page does, with an upbeat too, and tells of another key', () => {
    // An upbeat of a crotchet before two bars of four: the first whole bar is bar 1 (common practice, no source).
    const upbeat = pieceOf(takeOf('upbeat', [3, 4, 5, 6, 7, 8, 9, 10], [67, 72, 74, 76, 77, 79, 77, 76], 3), {
      firstBeatStrike: 1,
    });
    expect(toNumber(upbeat.reading.upbeat)).toBe(0.25);
    const used = { ...upbeat, motifBars: { from: 0, to: 1 } };
    const plan = grow(motifOf(used), planOf(used), { kind: 'repeat', statement: 's1', times: 4 });
    if (!plan.ok) throw new Error(plan.problem.what);
    const { plan: four } = plan.value;
    const piece = {
      ...used,
      key: key('C'),
      plan: { ...four, letters: [{ bar: 2, letter: 'A' }], keys: [{ bar: 2, moved: 7 }] },
    };
    const lines = said(piece, 'chosen');
    expect(lines.slice(-2)).toEqual(['Letter A stands at bar 3.', 'From bar 3 the key is G major.']);
    expect(lines[0]).toMatch(/^Xylophone, bars 0 to /);
  });

  it('gives a statement the bars it stands in, and not the one that begins where it ends', () => {
    const piece = grown(pieceOf(SCALE));
    const plan = planOf(piece);
    const [first] = plan.statements;
    if (first === undefined) throw new Error('a plan has a statement');
    const statements = [
      { ...first, times: 2 },
      { ...first, id: 's2', onset: fraction(2), times: 1 },
    ];
    expect(
      said({ ...piece, plan: { ...plan, statements } }, 'chosen').map(line => line.split(':')[0]),
    ).toEqual(['Xylophone, bars 1 to 2', 'Xylophone, bar 3']);
  });

  it('says so where one bar is one bar, one strike one strike, and a moment a second', () => {
    const one = pieceOf(takeOf('one', [0], [72], 1));
    expect(said(one, 'played')[0]).toMatch(/^1 strike in 1 second /);
  });
});

describe('a length beside what is asked for', () => {
  it('is within from the least to the most second, both included', () => {
    const asked = { least: 60, most: 210 };
    expect([59.4, 59.6, 60, 210, 210.4, 210.6].map(s => lengthWords(s, asked).split(',')[1])).toEqual([
      ' shorter than 1:00 to 3:30',
      ' within 1:00 to 3:30',
      ' within 1:00 to 3:30',
      ' within 1:00 to 3:30',
      ' within 1:00 to 3:30',
      ' longer than 1:00 to 3:30',
    ]);
    expect([0, 9, 59.5, 3600].map(minutes)).toEqual(['0:00', '0:09', '1:00', '60:00']);
  });
});

const FACTS = {
  length: '0:21',
  about: [['Metre', '4/4'] as const, ['Made with', ''] as const],
  log: [{ part: 'chosen' as const, words: 'Xylophone, bar 1: the motif.' }],
  questions: ['Why?', 'How?'],
  versions: [],
  files: [['a.pdf', 'the score'] as const],
};

describe('the sheet of an evidence pack', () => {
  const piece: Piece = {
    ...pieceOf(SCALE),
    title: '<b>Tom & "Jo"</b>',
    codeName: 'Heron',
    className: '8 Kestrel',
    assessment: {
      answers: [
        { to: 'Why?', words: 'Because <i>so</i> & so.\n\nAnd <script>alert(1)</script>.' },
        { to: 'An older question?', words: 'Still answered.' },
      ],
      judgements: [{ criterion: 'Rhythm', words: 'secure' }],
      feedback: 'Go on.',
    },
  };
  const html = evidenceSheet(piece, FACTS);

  it('is a page in which what was typed stays text, with nothing to run or to fetch', () => {
    expect(html.startsWith('<!doctype html>\n<html lang="en-GB">')).toBe(true);
    const tags = new Set(html.match(/<\/?[a-z0-9]+/g)?.map(tag => tag.replace(/<\/?/, '')));
    for (const never of ['script', 'b', 'i', 'img', 'link', 'iframe']) expect(tags).not.toContain(never);
    expect(html).not.toMatch(/https?:|url\(|src=|href=/);
    expect(html).toContain('&lt;script&gt;alert(1)&lt;/script&gt;');
    // HTML, section 13.1.2: only void elements may close themselves.
    for (const [, name] of html.matchAll(/<([a-z0-9]+)[^>]*\/>/g)) expect(name).toBe('meta');
  });

  it('has answers under their questions, older ones too, and lines where there is none', () => {
    const review = html.slice(
      html.indexOf('<h2>Review</h2>'),
      html.indexOf('<h2>What the teacher said</h2>'),
    );
    const parts = review.split('<h3>').slice(1);
    expect(parts.map(part => part.slice(0, part.indexOf('<')))).toEqual([
      'Why?',
      'How?',
      'An older question?',
    ]);
    expect(parts.map(part => part.match(/class="line"/g)?.length ?? 0)).toEqual([0, 3, 0]);
    expect(parts[2]).toContain('Still answered.');
    // Each of the pupil's lines is a paragraph, and an empty one is none.
    const answer = [...(parts[0] ?? '').matchAll(/<p>([^<]*)<\/p>/g)].map(([, words]) => words);
    expect(answer).toEqual([
      'Because &lt;i&gt;so&lt;/i&gt; &amp; so.',
      'And &lt;script&gt;alert(1)&lt;/script&gt;.',
    ]);
  });

  it('has its parts in order, each only where there is something in it', () => {
    const headings = (page: string): string[] =>
      [...page.matchAll(/<h[123]>([^<]*)<\/h[123]>/g)].map(([, words]) => words ?? '');
    const full = evidenceSheet(piece, {
      ...FACTS,
      log: [...FACTS.log, { part: 'played', words: 'Struck.' }],
      versions: ['27 November 2026'],
    });
    expect(headings(full)).toEqual([
      '&lt;b&gt;Tom &amp; &quot;Jo&quot;&lt;/b&gt;',
      'In this pack',
      'How it came about',
      'What the pupil played',
      'What was chosen in Grow',
      'Versions that were kept',
      'Review',
      'Why?',
      'How?',
      'An older question?',
      'What the teacher said',
      'Declaration',
    ]);
    expect(full.indexOf('Struck.')).toBeLessThan(full.indexOf('Xylophone, bar 1: the motif.'));
    expect(full).toMatch(/<h3>Versions that were kept<\/h3>\s*<ul>\s*<li>27 November 2026<\/li>/);
    expect(headings(html)).not.toContain('Versions that were kept');
    // To be signed: three rows with room, and two lines to name help on.
    const declaration = full.slice(full.indexOf('<h2>Declaration</h2>'));
    expect([...declaration.matchAll(/<th scope="row">([^<]*)<\/th>/g)].map(([, who]) => who)).toEqual([
      'Pupil',
      'Teacher',
      'Date',
    ]);
    expect(declaration).toContain('<table class="sign">');
    expect(declaration.match(/class="line"/g)).toHaveLength(2);
    expect(declaration).toMatch(
      /<p>The idea is the pupil’s own[^<]*Where the school has a form of its own[^<]*<\/p>/,
    );
    expect(full.match(/<table class=/g)).toHaveLength(1);
  });

  it('says who, how long and how, what the teacher said, and is signed by nobody', () => {
    for (const words of [
      'Heron, 8 Kestrel',
      '0:21',
      'a.pdf',
      'the score',
      'What was chosen in Grow',
      'secure',
      'Go on.',
      'Declaration',
    ])
      expect(html).toContain(words);
    expect(html).not.toContain('Made with');
    expect(html).not.toContain('What was mended by hand');
    // Feedback without a word on any criterion: no table stands between heading and words.
    const spoken = { ...piece, assessment: { answers: [], judgements: [], feedback: 'Go on.' } };
    expect(evidenceSheet(spoken, FACTS)).toMatch(/<h2>What the teacher said<\/h2>\s*<p>Go on\.<\/p>/);
    expect(html).toMatch(/<th scope="row">Rhythm<\/th>\s*<td>secure<\/td>/);
    const bare = evidenceSheet(pieceOf(SCALE), { ...FACTS, questions: [] });
    expect(bare).not.toContain('<h2>Review</h2>');
    expect(bare).not.toContain('What the teacher said');
    expect(bare).toContain('Declaration');
  });
});
