import { finish, type Sliced } from '../../core/foundation/sliced.ts';
import { onTheirLines } from '../../core/score/oneLine.ts';
import type { Score } from '../../core/score/score.ts';
import { drawSystem } from './drawSystem.ts';
import { margin, SOUNDS_SIZE, soundsLines } from './frame.ts';
import { prepareVexFlow } from './pageContext.ts';
import { type PageOptions, signSize, weightOf } from './options.ts';
import { type DrawnSystem, placeSystem, type SystemFrame } from './system.ts';
import { framesOf } from './systemFrames.ts';
import { INSTRUMENTS } from '../../core/instruments/instruments.ts';

/** A system, and the element that holds its place or, once drawn, its picture. */
export interface PageSystem extends DrawnSystem {
  readonly element: HTMLElement;
}

/** A page laid out: every system has its place and positions, and is drawn when asked for. */
export interface Sheet {
  readonly systems: readonly PageSystem[];
  /** Draws the systems with these indices that are not drawn yet; the sheet that has them. */
  readonly draw: (indices: readonly number[]) => Sheet;
  readonly drawn: ReadonlySet<number>;
  /** What each system shows; equal keys look the same. */
  readonly keys: readonly string[];
}

/** Everything that decides how a system looks. */
const keyOf = (score: Score, frame: SystemFrame, scale: number, options: PageOptions): string => {
  const { first, bars } = frame.plan;
  const end = first + bars.length;
  return JSON.stringify([
    frame,
    scale,
    options.width,
    options.staveHeight,
    options.names,
    options.tempo,
    options.nameStyle,
    signSize(options, scale),
    score.key,
    score.keys,
    score.metre,
    score.metres,
    score.tempo,
    score.swing,
    score.tempi,
    score.slowings,
    score.letters,
    score.repeats,
    end === score.barCount,
    score.parts.map(part => [
      part.id,
      part.name,
      part.short,
      part.clef,
      part.lines,
      part.bars.slice(first, end),
    ]),
  ]);
};

/**
 * Lays a score out in `host` as one element for each system, drawing none. Systems of `before`, a
 * sheet in the same host, that look the same are kept as they are. The notation font must be ready.
 */
export const layOutSheet = (given: Score, host: HTMLElement, options: PageOptions, before?: Sheet): Sheet =>
  finish(layOutSheetInSlices(given, host, options, before));

/** How a page begins: shown as soon as it is so high, in CSS pixels, with room below for what is yet to be laid out. */
export interface PageBeginning {
  readonly height: number;
  readonly show: (sheet: Sheet) => void;
}

const placeholder = (height: number): HTMLElement => {
  const element = document.createElement('div');
  element.style.height = `${String(height)}px`;
  return element;
};

/**
 * {@link layOutSheet}, a bar or a system at a time; `host` stays as it is until the end, or until the page that is
 * wanted so has begun.
 */
export function* layOutSheetInSlices(
  given: Score,
  host: HTMLElement,
  options: PageOptions,
  before?: Sheet,
  beginning?: PageBeginning,
): Sliced<Sheet> {
  prepareVexFlow();
  const score = onTheirLines(given);
  const { frames: planned, scale } = yield* framesOf(score, options);
  const frames: SystemFrame[] = [];
  const keys: string[] = [];
  const kept = new Map<string, PageSystem>();
  before?.drawn.forEach(i => {
    const system = before.systems[i];
    if (system !== undefined) kept.set(before.keys[i] ?? '', system);
  });
  const drawn = new Map<number, PageSystem>();
  const systems: PageSystem[] = [];
  const weight = weightOf(options);
  const sheet = (now: readonly PageSystem[], done: ReadonlySet<number>): Sheet => ({
    systems: now,
    drawn: done,
    keys,
    draw: indices => {
      const wanted = indices.filter(i => !done.has(i) && i < now.length);
      if (wanted.length === 0) return sheet(now, done);
      const next = [...now];
      for (const i of wanted) {
        const system = now[i];
        const frame = frames[i];
        if (system === undefined || frame === undefined) continue;
        const elements = drawSystem(system.element, score, frame, system, options.width, {
          scale,
          weight,
          signs: signSize(options, scale),
          tempo: options.tempo,
          nameStyle: options.nameStyle ?? 'british',
        });
        if (options.names) writeNames(score, system, frame.first, scale);
        const inked = {
          ...system,
          symbols: system.symbols.map((symbol, k) => ({ ...symbol, element: elements[k] })),
        };
        drawn.set(i, inked);
        next[i] = inked;
      }
      return sheet(next, new Set([...done, ...wanted]));
    },
  });
  let rest: HTMLElement | undefined;
  let height = 0;
  for (const [i, planning] of planned.entries()) {
    yield undefined;
    const frame = planning();
    frames.push(frame);
    const key = keyOf(score, frame, scale, options);
    keys.push(key);
    const old = kept.get(key);
    if (old === undefined) {
      const placed = placeSystem(score, frame, scale);
      const element = placeholder(placed.height);
      element.className = 'system';
      systems.push({ ...placed, element });
    } else {
      drawn.set(i, old);
      systems.push(old);
    }
    height += systems[i]?.height ?? 0;
    if (beginning === undefined || rest !== undefined || height < beginning.height) continue;
    rest = placeholder((height / (i + 1)) * (planned.length - i - 1));
    host.replaceChildren(...systems.map(s => s.element), rest);
    beginning.show(sheet([...systems], new Set(drawn.keys())));
  }
  if (rest === undefined) host.replaceChildren(...systems.map(s => s.element));
  // What has begun stays where it stands.
  else rest.replaceWith(...systems.map(s => s.element).filter(element => element.parentElement !== host));
  return sheet(
    systems.map((system, i) => drawn.get(i) ?? system),
    new Set(drawn.keys()),
  );
}

const writeNames = (score: Score, system: PageSystem, first: boolean, scale: number): void => {
  system.staves.forEach((stave, p) => {
    const part = score.parts[p];
    if (part === undefined) return;
    const width = `${String((margin(score, true, first) - 18) * scale)}px`;
    const write = (text: string, middle: number, size: number): HTMLElement => {
      const line = document.createElement('span');
      line.className = 'part-name';
      line.textContent = text;
      line.style.top = `${String(middle)}px`;
      line.style.fontSize = `${String(size)}px`;
      line.style.width = width;
      system.element.append(line);
      return line;
    };
    const lines = first ? soundsLines(part.instrument) : [];
    const size = Math.max(10.5, 16.5 * scale);
    const small = SOUNDS_SIZE * scale;
    // Name and what is under it stand about the middle of the stave together.
    const middle = (stave.top + stave.bottom) / 2 - (lines.length * small * 1.15) / 2;
    write(first ? part.name : part.short, middle, size).title = INSTRUMENTS[part.instrument].name;
    lines.forEach((text, i) => {
      write(text, middle + size * 0.5 + small * (0.75 + 1.15 * i), small).classList.add('part-sounds');
    });
  });
};
