import { isNatural } from '../../core/foundation/pitch.ts';
import type { MidiPitch } from '../../core/foundation/units.ts';

/**
 * Which bar the focus goes to from another: Left and Right to its neighbours in pitch, Up to the row behind and Down
 * to the front row, Home and End to the ends; undefined where there is none, or the key walks nowhere.
 * @param bars what is set out, from the lowest up
 * @example barBeside([60, 61, 62], 60, 'ArrowRight') // 61
 */
export const barBeside = (
  bars: readonly MidiPitch[],
  from: MidiPitch,
  key: string,
): MidiPitch | undefined => {
  const lower = bars.filter(pitch => pitch < from).at(-1);
  const higher = bars.find(pitch => pitch > from);
  switch (key) {
    case 'ArrowLeft':
      return lower;
    case 'ArrowRight':
      return higher;
    case 'Home':
      return bars[0];
    case 'End':
      return bars.at(-1);
    case 'ArrowUp':
    case 'ArrowDown': {
      if (isNatural(from) === (key === 'ArrowDown')) return undefined;
      const others = bars.filter(pitch => isNatural(pitch) !== isNatural(from));
      const far = (pitch: MidiPitch): number => Math.abs(pitch - from);
      // Of two as near the higher: behind B lies no bar, behind C there is C♯.
      return others.reduce<MidiPitch | undefined>(
        (best, pitch) => (best === undefined || far(pitch) <= far(best) ? pitch : best),
        undefined,
      );
    }
    default:
      return undefined;
  }
};
