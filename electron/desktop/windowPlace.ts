import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { z } from '../../core/foundation/schema.ts';

/** A rectangle on the screens, in Electron's device-independent pixels. */
export interface Rectangle {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Where a window opens; without x and y the system centres it. */
export interface WindowPlace {
  readonly x?: number;
  readonly y?: number;
  readonly width: number;
  readonly height: number;
  readonly isMaximized: boolean;
}

/** The smallest window every place fits in. */
export const LEAST_WIDTH = 900;
export const LEAST_HEIGHT = 600;
const USUAL = { width: 1366, height: 860 };

/** This much of the window's head must lie on a screen to be taken hold of. */
const IN_REACH = { width: 120, height: 40 };

const number = z.int().min(-100_000).max(100_000);
const settings = z.object({
  x: number,
  y: number,
  width: number.min(1),
  height: number.min(1),
  isMaximized: z.boolean(),
});

/** Whether the head of a window can be seen and taken hold of on one of the screens. */
const isInReach = (window: Rectangle, screen: Rectangle): boolean =>
  Math.min(window.x + window.width, screen.x + screen.width) - Math.max(window.x, screen.x) >=
    IN_REACH.width &&
  window.y >= screen.y &&
  window.y <= screen.y + screen.height - IN_REACH.height;

/**
 * Where the window opens: where it was left, never larger than its screen, and never on a screen that is gone
 * (a projector that is unplugged today).
 * @param left as it was saved; undefined at a first start
 * @param screens the usable part of each screen, the main one first
 * @example placeFor(undefined, [{ x: 0, y: 0, width: 1280, height: 680 }])
 * // => { width: 1280, height: 680, isMaximized: false }
 */
export const placeFor = (
  left: (Rectangle & { readonly isMaximized: boolean }) | undefined,
  screens: readonly Rectangle[],
): WindowPlace => {
  const on = left === undefined ? undefined : screens.find(screen => isInReach(left, screen));
  const room = on ?? screens[0] ?? { x: 0, y: 0, ...USUAL };
  const wanted = left ?? USUAL;
  const width = Math.max(LEAST_WIDTH, Math.min(wanted.width, room.width));
  const height = Math.max(LEAST_HEIGHT, Math.min(wanted.height, room.height));
  const isMaximized = left?.isMaximized ?? false;
  // Made smaller it may have lost its hold on the screen: then it is centred, too.
  return left === undefined || on === undefined || !isInReach({ ...left, width, height }, on)
    ? { width, height, isMaximized }
    : { x: left.x, y: left.y, width, height, isMaximized };
};

/** Where the window was left; undefined when that is not known, or is nonsense. */
export const readWindowPlace = (file: string): z.infer<typeof settings> | undefined => {
  try {
    const found = settings.safeParse(JSON.parse(readFileSync(file, 'utf8')));
    return found.success ? found.data : undefined;
  } catch {
    return undefined;
  }
};

/** Remembers where the window is left, in one stroke. A place that cannot be written is only forgotten. */
export const writeWindowPlace = (file: string, place: z.infer<typeof settings>): void => {
  try {
    writeFileSync(`${file}.part`, JSON.stringify(place));
    renameSync(`${file}.part`, file);
  } catch {
    // The next start opens the window where a first one does.
  }
};
