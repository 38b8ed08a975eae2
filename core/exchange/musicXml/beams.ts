import { hookSide, secondaryBreaks } from '../../score/beams.ts';
import type { ScoreBar } from '../../score/score.ts';
import { type Xml, xml } from '../xml.ts';

/** Beams of one symbol: level 1 joins the group; deeper levels join equal neighbours or hook. */
export const beamElements = (bar: ScoreBar, index: number): Xml[] => {
  const group = bar.beams.find(g => g.includes(index));
  if (group === undefined) return [];
  const levels = (i: number | undefined): number => {
    const symbol = i === undefined ? undefined : bar.symbols[i];
    return symbol === undefined ? 0 : Math.log2(symbol.value.base) - 2;
  };
  const at = group.indexOf(index);
  const breaks = secondaryBreaks(bar, group);
  const previous = group[at - 1];
  const brokenAfter = breaks.includes(index);
  const brokenBefore = previous !== undefined && breaks.includes(previous);
  const own = levels(index);
  const before = levels(group[at - 1]);
  const after = levels(group[at + 1]);
  return Array.from({ length: own }, (_, i) => i + 1).map(level => {
    const left = before >= level && !(brokenBefore && level > 1);
    const right = after >= level && !(brokenAfter && level > 1);
    const text =
      left && right
        ? 'continue'
        : right
          ? 'begin'
          : left
            ? 'end'
            : hookSide(bar, index) === 'left'
              ? 'backward hook'
              : 'forward hook';
    return xml('beam', { number: level }, text);
  });
};
