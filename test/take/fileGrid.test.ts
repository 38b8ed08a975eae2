import { describe, expect, it } from 'vitest';
import { likelierOnGrid } from '../../core/take/fileGrid.ts';
import { readStandardMidiFile } from '../../core/take/standardMidiFile.ts';
import { seeded } from '../reading/invented.ts';

// Files by hand, byte by byte, after the standard MIDI file format: without a tempo event a file is at 120
// crotchets a minute, without a time signature in 4/4. 480 ticks a crotchet, so 960 a second.

const big = (n: number, bytes: number): number[] =>
  Array.from({ length: bytes }, (_, k) => (n >> (8 * (bytes - 1 - k))) & 255);
const delta = (n: number): number[] => (n < 128 ? [n] : [128 | (n >> 7), n & 127]);
const fileOf = (seconds: readonly number[], head: readonly number[] = []): Uint8Array => {
  const body = [...head];
  let at = 0;
  for (const s of seconds) {
    const ticks = Math.round(s * 960);
    body.push(...delta(ticks - at), 0x90, 60, 80, 30, 0x80, 60, 0);
    at = ticks + 30;
  }
  body.push(0, 0xff, 0x2f, 0);
  return Uint8Array.from([
    ...[0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6, 0, 0, 0, 1, 1, 0xe0],
    ...[0x4d, 0x54, 0x72, 0x6b, ...big(body.length, 4), ...body],
  ]);
};
const tempo = (microseconds: number): number[] => [0, 0xff, 0x51, 3, ...big(microseconds, 3)];
const signature = (upper: number, power: number): number[] => [0, 0xff, 0x58, 4, upper, power, 24, 8];
const clickOf = (bytes: Uint8Array, options = {}): string => {
  const read = readStandardMidiFile(bytes, 'take.mid', options);
  if (!read.ok) return read.problem.kind;
  const { click } = read.value;
  return click === undefined ? 'none' : `${String(click.metre.upper)}/${String(click.metre.lower)}`;
};

/** The same figure at 120, and at 97 as somebody plays it who hears no click; begun at some moment. */
const FIGURE = [0, 1, 1.5, 2, 3, 3.5, 4, 5, 5.5, 6, 6.5, 7];
const AT_120 = FIGURE.map(x => 1 + x / 2 + 0.012 * Math.sin(7 * x));
const AT_97 = FIGURE.map(x => 0.71 + (x * 60) / 97 + 0.012 * Math.sin(7 * x));

const liesOnGrid = (onsets: readonly number[], beat: number): boolean => likelierOnGrid(onsets, beat) > 20;

describe('whether a file knows the beat it was played to', () => {
  it.each<[string, number[]]>([
    ['no tempo and no time signature', []],
    ['120 a minute', tempo(500_000)],
    ['120 a minute, in 4/4', [...tempo(500_000), ...signature(4, 2)]],
    ['120 a minute, written twice', [...tempo(500_000), ...tempo(500_000)]],
  ])('%s: the strikes say it', (_, head) => {
    expect(clickOf(fileOf(AT_97, head))).toBe('none');
    expect(clickOf(fileOf(AT_120, head))).toBe('4/4');
  });

  it.each<[string, number[], string]>([
    ['another tempo', tempo(500_001), '4/4'],
    ['a tempo that changes', [...tempo(500_000), 0, ...tempo(400_000).slice(1)], '4/4'],
    ['3/4', signature(3, 2), '3/4'],
    ['4/8', signature(4, 3), '4/8'],
    ['6/8', signature(6, 3), '6/8'],
  ])('%s says that there was a beat, however it was played', (_, head, metre) => {
    expect(clickOf(fileOf(AT_97, head))).toBe(metre);
  });

  it('a time signature of four speaks for the beat where the strikes hardly do', () => {
    const few = [0.5, 1.04, 1.46];
    expect(clickOf(fileOf(few))).toBe('none');
    expect(clickOf(fileOf(few, signature(4, 2)))).toBe('4/4');
  });

  it('whoever opens it has the last word', () => {
    expect(clickOf(fileOf(AT_97), { click: 'tempo-map' })).toBe('4/4');
    expect(clickOf(fileOf(AT_120), { click: 'none' })).toBe('none');
  });

  it('times are the same either way', () => {
    const read = (click?: 'tempo-map'): unknown => {
      const take = readStandardMidiFile(fileOf(AT_97), 'take.mid', click === undefined ? {} : { click });
      return take.ok ? take.value.strikes : take;
    };
    expect(read()).toEqual(read('tempo-map'));
  });

  it('a long take without a click is none too many, whatever its beats would come to', () => {
    expect(clickOf(fileOf(FIGURE.map(x => 0.3 + 3.1 * x)))).toBe('none');
  });
});

describe('strikes on a grid', () => {
  it('too few of them say nothing, and a chord says one thing', () => {
    expect(liesOnGrid([], 0.5)).toBe(false);
    expect(liesOnGrid([0.5, 1], 0.5)).toBe(false);
    expect(liesOnGrid([0.5, 0.501, 0.502, 0.503, 0.504, 0.505, 0.506, 0.507], 0.5)).toBe(false);
    expect(liesOnGrid([0.5, 1, 1.5, 2, 2.5, 3], 0.5)).toBe(true);
  });

  it('the first strike of a recorder that begins with it says nothing', () => {
    const drawn = [0.5, 1, 1.5];
    expect(likelierOnGrid([0, ...drawn], 0.5)).toBe(likelierOnGrid(drawn, 0.5));
  });

  it('thirds, halves and quarters of the beat are on it; one slip is forgiven; all a little late is on it', () => {
    const thirds = Array.from({ length: 12 }, (_, k) => 0.5 + k / 6);
    const quarters = Array.from({ length: 12 }, (_, k) => 0.5 + k / 8);
    const halves = Array.from({ length: 8 }, (_, k) => 0.5 + k / 4);
    expect([thirds, quarters, halves].map(g => liesOnGrid(g, 0.5))).toEqual([true, true, true]);
    expect(liesOnGrid([...halves, 2.71], 0.5)).toBe(true);
    expect(liesOnGrid(AT_120.map(at => at + 0.04), 0.5)).toBe(true); // prettier-ignore
  });

  // Markov's inequality: a likelihood ratio of 20 comes up by chance at most once in 20 times.
  it('law: strikes at any moments lie on it at most once in twenty times', () => {
    const next = seeded(5);
    const takes = Array.from({ length: 1000 }, (_, k) =>
      Array.from({ length: 4 + (k % 20) }, () => 12 * next()).sort((a, b) => a - b),
    );
    expect(takes.filter(at => liesOnGrid(at, 0.5)).length).toBeLessThanOrEqual(50);
  });

  it('players whose strikes spread by 20 ms are known on crotchets and quavers of 120, and not at 109', () => {
    const next = seeded(6);
    const normal = (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
    const played = (tempo: number): number[] =>
      FIGURE.map(x => 2 + (x * 60) / tempo + 0.02 * normal()).sort((a, b) => a - b);
    const known = (tempo: number): number =>
      Array.from({ length: 100 }, () => played(tempo)).filter(at => liesOnGrid(at, 0.5)).length;
    expect(known(120)).toBeGreaterThanOrEqual(95);
    expect(known(109)).toBeLessThanOrEqual(5);
  });
});
