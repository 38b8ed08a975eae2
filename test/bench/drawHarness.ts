// Bundled into an empty page by engraving.ts.
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { drawScore } from '../../renderer/page/drawScore.ts';
import { notationFontReady } from '../../renderer/page/fonts.ts';
import { IDEA } from '../exchange/pieces.ts';
import { planOf, type Size } from './pieces.ts';

const WIDTH = 900;

/** Draws a score so often; the times of drawing alone, and with the browser's layout after it, in ms. */
const draw = async (
  size: Size,
  runs: number,
): Promise<{ drawing: readonly number[]; laidOut: readonly number[]; systems: number; heads: number }> => {
  await notationFontReady();
  const host = document.createElement('div');
  host.style.width = `${String(WIDTH)}px`;
  document.body.replaceChildren(host);
  const score = scoreOfPlan(IDEA, planOf(size), 'Idea', 'Wren');
  const options = { width: WIDTH, scale: 1, above: 24, below: 0, names: true, tempo: true };
  const drawing: number[] = [];
  const laidOut: number[] = [];
  for (let run = 0; run <= runs; run += 1) {
    const start = performance.now();
    drawScore(score, host, options);
    const drawn = performance.now();
    host.getBoundingClientRect();
    const done = performance.now();
    if (run === 0) continue; // the first is not counted
    drawing.push(drawn - start);
    laidOut.push(done - start);
  }
  const heads = host.querySelectorAll('.vf-notehead').length;
  return { drawing, laidOut, systems: host.querySelectorAll('.system').length, heads };
};

const drawHarness = { draw };
export type DrawHarness = typeof drawHarness;
Object.assign(globalThis, { drawHarness });
