import { writeXml, xml, type Xml } from '../exchange/xml.ts';
import { NO_ASSESSMENT, type Assessment } from '../piece/assessment.ts';
import type { Piece } from '../piece/piece.ts';
import type { LogEntry, LogPart } from './composingLog.ts';

/** Everything the sheet says that is not in the piece. */
export interface SheetFacts {
  /** How long it is, beside what is asked for. */
  readonly length: string;
  /** What the register says: metres, key, treatments. */
  readonly about: readonly (readonly [name: string, words: string])[];
  readonly log: readonly LogEntry[];
  /** Questions the pupil is asked; those without an answer get lines to write on. */
  readonly questions: readonly string[];
  /** When versions were kept, in words, oldest first. */
  readonly versions: readonly string[];
  /** Names of the files beside the sheet, and what each is. */
  readonly files: readonly (readonly [name: string, words: string])[];
}

const PARTS: readonly (readonly [LogPart, string])[] = [
  ['played', 'What the pupil played'],
  ['worked out', 'What the app worked out'],
  ['mended by hand', 'What was mended by hand'],
  ['chosen', 'What was chosen in Grow'],
];

// Black on white, and as wide as a page: it is read on paper as often as on a screen.
const STYLE = `body{font:16px/1.45 sans-serif;color:#000;background:#fff;max-width:44rem;margin:2rem auto;padding:0 1rem}
h2{margin:1.6rem 0 .4rem;border-bottom:1px solid #000}h3{margin:1rem 0 .2rem}
table{border-collapse:collapse}th{text-align:left;padding-right:1.5rem;vertical-align:top}
.line{border-bottom:1px solid #000;height:1.8rem}.sign th{padding-top:1.6rem}.sign td{border-bottom:1px solid #000;width:22rem}
section{break-inside:avoid}`;

const table = (rows: readonly (readonly [string, string])[], className = ''): Xml =>
  xml(
    'table',
    className === '' ? {} : { class: className },
    xml(
      'tbody',
      {},
      ...rows.map(([name, words]) => xml('tr', {}, xml('th', { scope: 'row' }, name), xml('td', {}, words))),
    ),
  );

const list = (lines: readonly string[]): Xml => xml('ul', {}, ...lines.map(line => xml('li', {}, line)));

/** Words a pupil or teacher typed: each of their lines a paragraph. */
const paragraphs = (words: string): Xml[] =>
  words
    .split(/\n+/)
    .filter(line => line.trim() !== '')
    .map(line => xml('p', {}, line));

// Never empty: a browser takes an element that closes itself for one that is still open.
const lines = (count: number): Xml[] =>
  Array.from({ length: count }, () => xml('p', { class: 'line' }, '\u00a0'));

const review = (assessment: Assessment, questions: readonly string[]): Xml[] => {
  const answered = new Map(assessment.answers.map(({ to, words }) => [to, words]));
  const all = [...new Set([...questions, ...answered.keys()])];
  return all.map(question =>
    xml(
      'section',
      {},
      xml('h3', {}, question),
      ...(answered.has(question) ? paragraphs(answered.get(question) ?? '') : lines(3)),
    ),
  );
};

const said = ({ judgements, feedback }: Assessment): Xml[] =>
  judgements.length === 0 && feedback.trim() === ''
    ? []
    : [
        xml('h2', {}, 'What the teacher said'),
        ...(judgements.length === 0
          ? []
          : [table(judgements.map(({ criterion, words }) => [criterion, words] as const))]),
        ...paragraphs(feedback),
      ];

/**
 * The sheet of an evidence pack, as a page that any browser shows and prints without this app: what the piece is, how
 * it came about, the pupil's review, what the teacher said, and a declaration to be signed by hand. There is no name on
 * it but the code name, and it asserts no examination board's rules.
 * @returns HTML, complete in one file, without scripts and without anything to fetch
 */
export const evidenceSheet = (piece: Piece, facts: SheetFacts): string => {
  const assessment = piece.assessment ?? NO_ASSESSMENT;
  const whose = piece.codeName === '' ? 'not yet given' : piece.codeName;
  const body = xml(
    'body',
    {},
    xml('h1', {}, piece.title),
    table([
      ['By', piece.className === '' ? whose : `${whose}, ${piece.className}`],
      ['Length', facts.length],
      ...facts.about.filter(([, words]) => words !== ''),
    ]),
    xml('h2', {}, 'In this pack'),
    table(facts.files),
    xml('h2', {}, 'How it came about'),
    ...PARTS.flatMap(([part, heading]) => {
      const here = facts.log.filter(entry => entry.part === part).map(entry => entry.words);
      return here.length === 0 ? [] : [xml('section', {}, xml('h3', {}, heading), list(here))];
    }),
    ...(facts.versions.length === 0
      ? []
      : [xml('section', {}, xml('h3', {}, 'Versions that were kept'), list(facts.versions))]),
    ...(facts.questions.length === 0 && assessment.answers.length === 0
      ? []
      : [xml('h2', {}, 'Review'), ...review(assessment, facts.questions)]),
    ...said(assessment),
    xml(
      'section',
      {},
      xml('h2', {}, 'Declaration'),
      xml(
        'p',
        {},
        'The idea is the pupil’s own, and so are the choices listed above. Help that was given is named here. Where the school has a form of its own, that form takes the place of this one.',
      ),
      ...lines(2),
      table(
        [
          ['Pupil', '\u00a0'],
          ['Teacher', '\u00a0'],
          ['Date', '\u00a0'],
        ],
        'sign',
      ),
    ),
  );
  const head = xml(
    'head',
    {},
    xml('meta', { charset: 'utf-8' }),
    xml('meta', { name: 'viewport', content: 'width=device-width' }),
    xml('title', {}, `${piece.title}, ${whose}`),
    xml('style', {}, STYLE),
  );
  return `<!doctype html>\n${writeXml(xml('html', { lang: 'en-GB' }, head, body))}`;
};
