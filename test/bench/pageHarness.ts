// Bundled into an empty page by engravingPage.ts: what a teacher waits for in Write.
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import { scoreOfReading } from '../../core/score/fromReading.ts';
import type { Score } from '../../core/score/score.ts';
import type { Take } from '../../core/take/take.ts';
import { notationFontReady } from '../../renderer/page/fonts.ts';
import type { PageOptions } from '../../renderer/page/options.ts';
import { layOutSheet, type Sheet } from '../../renderer/page/sheet.ts';
import { played } from '../takes/written.ts';

/** As the Write view draws it in a window 768 px high. */
const OPTIONS: PageOptions = { width: 900, scale: 1.15, above: 46, below: 58, names: false, tempo: true };
const SEEN = 560;

/** A two-bar idea of ten strikes over so many bars, with other pitches each time. */
const takeOf = (bars: number): Take => {
  const idea = [0, 0.75, 1.5, 2, 3, 4, 4.5, 5.5, 6, 7];
  const at = Array.from({ length: bars / 2 }, (_, b) => idea.map(x => x + 8 * b)).flat();
  return played({
    at,
    off: at.map((_, i) => ((i * 7919) % 61) - 30),
    pitch: at.map((_, i) => 60 + ((i * i * 31 + i * 7) % 19)),
    click: true,
    tempo: 96,
    metre: metre(4, 4),
  });
};

const scoreOf = (reading: Reading): Score => scoreOfReading(reading, key('C'), 'xylophone', 'Bench', 'Wren');

const best = (bars: number): Reading => {
  const [reading] = readTake(takeOf(bars));
  if (reading === undefined) throw new Error('nothing was read');
  return reading;
};

const inSight = (sheet: Sheet): readonly number[] => {
  let y = 0;
  return sheet.systems.flatMap((system, i) => {
    const from = y;
    y += system.height;
    return from < SEEN ? [i] : [];
  });
};

const newHost = (): HTMLElement => {
  const host = document.createElement('div');
  host.style.width = `${String(OPTIONS.width)}px`;
  document.body.replaceChildren(host);
  return host;
};

interface Times {
  readonly reading: number;
  readonly score: number;
  readonly page: number;
  /** Systems there are, and how many of them were drawn. */
  readonly systems: number;
  readonly drawn: number;
}

/** From the strikes of a take to its first page laid out by the browser. */
const firstPage = async (bars: number, runs: number): Promise<readonly Times[]> => {
  await notationFontReady();
  return Array.from({ length: runs + 3 }, () => {
    const host = newHost();
    const take = takeOf(bars);
    const start = performance.now();
    const [reading] = readTake(take);
    const read = performance.now();
    if (reading === undefined) throw new Error('nothing was read');
    const score = scoreOf(reading);
    const engraved = performance.now();
    const laid = layOutSheet(score, host, OPTIONS);
    const sheet = laid.draw(inSight(laid));
    host.getBoundingClientRect();
    const done = performance.now();
    return {
      reading: read - start,
      score: engraved - read,
      page: done - engraved,
      systems: sheet.systems.length,
      drawn: sheet.drawn.size,
    };
  }).slice(3);
};

/** One note of the first bars takes another pitch, again and again: until the browser has laid the page out. */
const edits = async (bars: number, runs: number): Promise<readonly Times[]> => {
  await notationFontReady();
  const host = newHost();
  const reading = best(bars);
  const first = layOutSheet(scoreOf(reading), host, OPTIONS);
  let sheet = first.draw(inSight(first));
  return Array.from({ length: runs + 3 }, (_, run) => {
    const start = performance.now();
    const changed: Reading = {
      ...reading,
      notes: reading.notes.map((note, i) => (i === 3 ? { ...note, pitch: 72 + (run % 5) } : note)),
    };
    const score = scoreOf(changed);
    const engraved = performance.now();
    const before = new Set(sheet.drawn);
    const laid = layOutSheet(score, host, OPTIONS, sheet);
    const kept = laid.drawn.size;
    sheet = laid.draw(inSight(laid));
    host.getBoundingClientRect();
    const done = performance.now();
    if (kept === before.size && before.size > 1) throw new Error('the edit changed nothing');
    return {
      reading: 0,
      score: engraved - start,
      page: done - engraved,
      systems: sheet.systems.length,
      drawn: sheet.drawn.size - kept,
    };
  }).slice(3);
};

const scoreFor = (bars: number): Score => scoreOf(best(bars));

const pageHarness = { firstPage, edits, scoreFor };
export type PageHarness = typeof pageHarness;
Object.assign(globalThis, { pageHarness });
