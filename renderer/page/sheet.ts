import { finish, type Sliced } from '../../core/foundation/sliced.ts';
import type { BarIndex } from '../../core/foundation/units.ts';
import { onTheirLines } from '../../core/score/oneLine.ts';
import type { Score } from '../../core/score/score.ts';
import { drawSystem } from './drawSystem.ts';
import { endingRoom } from './endingMarks.ts';
import { headWidth, margin, SOUNDS_SIZE, soundsLines } from './frame.ts';
import { headLineHeight, letterHeight, startsWithLetter } from './headLine.ts';
import { headSignsAbove, keySignsAbove } from './keySigns.ts';
import { breakIntoSystems, tightest } from './layout.ts';
import { prepareVexFlow } from './pageContext.ts';
import { type PageOptions, scaleOf, signSize, weightOf } from './options.ts';
import { type BarColumns, columnsOf } from './spacing.ts';
import { type DrawnSystem, placeSystem, type SystemFrame } from './system.ts';
import { LEAST_ABOVE, staveRoom } from './vertical.ts';
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

/** The natural stretch of bars that may stand close together. */
const CLOSE = 0.95;

/** Lays the systems out: bars into systems, staves under each other. Pure but for the width of the clef. */
function* framesOf(
  score: Score,
  options: PageOptions,
): Sliced<{ frames: readonly SystemFrame[]; scale: number }> {
  const under = options.under ?? [];
  const columns: BarColumns[] = [];
  for (let bar = 0; bar < score.barCount; bar++) {
    columns.push(columnsOf(score, bar, under));
    yield undefined;
  }
  const margins = { first: margin(score, options.names, true), later: margin(score, options.names, false) };
  const headOf = (bar: BarIndex): number =>
    (bar === 0 ? margins.first : margins.later) + headWidth(score, bar);
  const least = Math.max(...columns.map((_, bar) => headOf(bar))) + tightest(columns) + 3;
  const nameRoom = options.nameRoom ?? 0;
  // A bar that cannot be pressed into the line makes the whole page smaller instead of leaving it.
  const scale = Math.min(scaleOf(options), (options.width - nameRoom) / least);
  const lefts = {
    first: margins.first + nameRoom / scale,
    later: margins.later + nameRoom / scale,
  };
  const width = options.width / scale - 2;
  const plans = yield* breakIntoSystems(
    columns,
    width,
    bar => headOf(bar) + nameRoom / scale,
    options.close === true ? CLOSE : 1,
    new Set(options.close === true ? score.letters.map(l => l.bar) : []),
  );
  const above = options.above / scale;
  const below = options.below / scale;
  const signs = signSize(options, scale);
  const besideClef = options.besideClef === true;
  const frames: SystemFrame[] = [];
  for (const [index, plan] of plans.entries()) {
    const first = index === 0;
    const count = plan.bars.length;
    const rooms = score.parts
      .map(part =>
        staveRoom(part, plan.first, count, under, keySignsAbove(score, part.clef, plan.first, count)),
      )
      .map(room => (besideClef ? { ...room, above: room.overNotes } : room));
    const besideLetter = { tempo: options.tempo, signs, letterFirst: true };
    // Where a line of marks is needed anyway, a first letter stands in it.
    const letterFirst =
      besideClef &&
      startsWithLetter(score, plan.first) &&
      headLineHeight(score, plan.first, count, besideLetter) === 0;
    const line = headLineHeight(score, plan.first, count, { ...besideLetter, letterFirst });
    const endings = endingRoom(score, plan.first, count);
    const tops: number[] = [];
    let y = line + endings;
    rooms.forEach((room, p) => {
      // Over the first stave stand the bar number and how often a repeat is played.
      const wanted = p > 0 ? 0 : first ? (showsTimes(score, plan.first, count) ? 26 : 0) : 34;
      const letter = p === 0 && letterFirst ? letterHeight(signs) + LEAST_ABOVE : 0;
      const signature = headSignsAbove(score, score.parts[p]?.clef ?? 'treble', plan.first);
      const over = above + (options.roomOver?.(index, p) ?? 0) / scale;
      y += Math.max(over + room.above, wanted, letter, LEAST_ABOVE, signature);
      tops.push(y);
      y += 40 + room.below + below;
    });
    frames.push({
      plan,
      first,
      left: first ? lefts.first : lefts.later,
      head: headWidth(score, plan.first),
      tops,
      rooms,
      height: y,
      headLine: line > 0 ? line - 8 * signs : undefined,
      startLetter: letterFirst ? (tops[0] ?? 0) - LEAST_ABOVE - letterHeight(signs) / 2 : undefined,
      endingLine: endings > 0 ? line + 3 : undefined,
    });
    yield undefined;
  }
  return { frames, scale };
}

const showsTimes = (score: Score, first: number, count: number): boolean =>
  score.repeats?.some(
    r => r.times > 2 && r.endings === undefined && r.bar + r.bars > first && r.bar + r.bars <= first + count,
  ) === true;

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

/** {@link layOutSheet}, a bar or a system at a time; `host` stays as it is until the end. */
export function* layOutSheetInSlices(
  given: Score,
  host: HTMLElement,
  options: PageOptions,
  before?: Sheet,
): Sliced<Sheet> {
  prepareVexFlow();
  const score = onTheirLines(given);
  const { frames, scale } = yield* framesOf(score, options);
  const keys: string[] = [];
  const kept = new Map<string, PageSystem>();
  before?.drawn.forEach(i => {
    const system = before.systems[i];
    if (system !== undefined) kept.set(before.keys[i] ?? '', system);
  });
  const drawn = new Set<number>();
  const systems: PageSystem[] = [];
  for (const [i, frame] of frames.entries()) {
    yield undefined;
    const key = keyOf(score, frame, scale, options);
    keys.push(key);
    const old = kept.get(key);
    if (old !== undefined) {
      drawn.add(i);
      systems.push(old);
      continue;
    }
    const placed = placeSystem(score, frame, scale);
    const element = document.createElement('div');
    element.className = 'system';
    element.style.height = `${String(placed.height)}px`;
    systems.push({ ...placed, element });
  }
  host.replaceChildren(...systems.map(s => s.element));
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
        next[i] = {
          ...system,
          symbols: system.symbols.map((symbol, k) => ({ ...symbol, element: elements[k] })),
        };
      }
      return sheet(next, new Set([...done, ...wanted]));
    },
  });
  return sheet(systems, drawn);
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
