// Bundled into an empty page by sheet.spec.ts.
import { fraction } from '../../core/foundation/fraction.ts';
import { key, spell } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { engravePart } from '../../core/score/engrave.ts';
import type { Score } from '../../core/score/score.ts';
import { notationFontReady } from '../../renderer/page/fonts.ts';
import { layOutSheet, layOutSheetInSlices, type Sheet } from '../../renderer/page/sheet.ts';

/** Crotchets and quavers over so many bars; the note of `changed` a third higher. */
const longScore = (bars: number, changed = -1): Score => {
  const m = metre(4, 4);
  const notes = Array.from({ length: bars * 6 }, (_, i) => {
    const inBar = i % 6;
    const at = Math.floor(i / 6) * 8 + ([0, 2, 3, 4, 6, 7][inBar] ?? 0);
    return {
      onset: fraction(at, 8),
      duration: fraction([2, 1, 1, 2, 1, 1][inBar] ?? 1, 8),
      pitch: spell(key('C'), 60 + ((i * 7) % 17) + (i === changed ? 4 : 0)),
      ref: String(i),
    };
  });
  return {
    title: 'Long',
    codeName: '',
    metre: m,
    key: key('C'),
    tempo: 96,
    upbeat: fraction(0),
    barCount: bars,
    letters: [],
    brackets: [],
    parts: [
      {
        id: 'p1',
        name: 'Xylophone',
        short: 'Xyl.',
        instrument: 'xylophone',
        clef: 'treble',
        bars: engravePart({ metre: m, key: key('C'), upbeat: fraction(0), bars }, notes),
      },
    ],
  };
};

/** Lays a page out in slices: how many, what was in the host before the last, and where everything then stood. */
const inSlices = (bars: number): { slices: number; early: number; same: boolean } => {
  const host = document.createElement('div');
  const work = layOutSheetInSlices(longScore(bars), host, OPTIONS);
  const said = (sheet: Sheet): string =>
    JSON.stringify(sheet.systems.map(({ element: _, ...system }) => system));
  for (let slices = 1; ; slices++) {
    const early = host.childElementCount;
    const next = work.next();
    if (next.done !== true) continue;
    const whole = layOutSheet(longScore(bars), document.createElement('div'), OPTIONS);
    return { slices, early, same: said(next.value) === said(whole) };
  }
};

/** Lays a page out in slices and draws its beginning: how that stands, and what becomes of it in the end. */
const begun = (bars: number, height: number) => {
  const host = document.createElement('div');
  document.body.replaceChildren(host);
  const shown: { drawn: Sheet; placed: number; heightThen: number; slice: number }[] = [];
  let slice = 0;
  const show = (sheet: Sheet): void => {
    const drawn = sheet.draw(sheet.systems.map((_, i) => i));
    const placed = sheet.systems.reduce((sum, system) => sum + system.height, 0);
    shown.push({ drawn, placed, heightThen: host.getBoundingClientRect().height, slice });
  };
  const work = layOutSheetInSlices(longScore(bars), host, OPTIONS, undefined, { height, show });
  for (;;) {
    const next = work.next();
    slice += 1;
    if (next.done !== true) continue;
    const { systems, drawn } = next.value;
    const [first] = shown;
    const whole = layOutSheet(longScore(bars), document.createElement('div'), OPTIONS);
    const placeOf = ({ element: _, symbols, ...system }: (typeof systems)[number]): unknown => [
      system,
      symbols.map(({ element: __, ...symbol }) => symbol),
    ];
    return {
      times: shown.length,
      share: (first?.slice ?? NaN) / slice,
      placed: first?.placed ?? NaN,
      guessed: (first?.heightThen ?? NaN) / host.getBoundingClientRect().height,
      stays: first?.drawn.systems.every((system, i) => system.element === systems[i]?.element) === true,
      drawn: [...drawn].join() === [...(first?.drawn.drawn ?? [])].join() && drawn.size > 0,
      svgs: host.querySelectorAll('svg').length - drawn.size,
      heads: systems.slice(0, drawn.size).every(s => s.symbols.every(symbol => symbol.element !== undefined)),
      strangers: host.childElementCount - systems.length,
      same: JSON.stringify(systems.map(placeOf)) === JSON.stringify(whole.systems.map(placeOf)),
    };
  }
};

const OPTIONS = { width: 900, scale: 1, above: 20, below: 20, names: false, tempo: true };

const run = async (): Promise<{
  systems: number;
  before: number;
  heightsHold: boolean;
  worst: number;
  keptSame: number;
  redrawn: number;
  changedHas: string;
}> => {
  await notationFontReady();
  const host = document.createElement('div');
  document.body.replaceChildren(host);
  const laid = layOutSheet(longScore(200), host, OPTIONS);
  const height = host.getBoundingClientRect().height;
  const some = laid.draw([0, 1, 5]);
  const before = host.querySelectorAll('svg').length;
  const all = some.draw(some.systems.map((_, i) => i));
  const heightsHold = Math.abs(host.getBoundingClientRect().height - height) < 1;
  // Where a head was said to stand before it was drawn, against where its ink is.
  let worst = 0;
  all.systems.forEach((system, s) => {
    const left = system.element.getBoundingClientRect().left;
    system.symbols.forEach((symbol, k) => {
      const head = symbol.element?.querySelector('.vf-notehead text')?.getBoundingClientRect();
      const said = laid.systems[s]?.symbols[k]?.x ?? Number.NaN;
      if (head !== undefined) worst = Math.max(worst, Math.abs((head.left + head.right) / 2 - left - said));
    });
  });
  const next = layOutSheet(longScore(200, 20), host, OPTIONS, all);
  const kept = next.drawn.size;
  const done = next.draw(next.systems.map((_, i) => i));
  const same = done.systems.filter((s, i) => s.element === all.systems[i]?.element).length;
  const bar4 = done.systems.find(s => s.first <= 3 && s.first + s.bars > 3);
  return {
    systems: all.systems.length,
    before,
    heightsHold,
    worst,
    keptSame: same,
    redrawn: done.systems.length - kept,
    changedHas: bar4?.symbols.find(s => s.refs.includes('20'))?.element?.dataset['refs'] ?? '',
  };
};

const sheetHarness = { run, inSlices, begun };
export type SheetHarness = typeof sheetHarness;
Object.assign(globalThis, { sheetHarness });
