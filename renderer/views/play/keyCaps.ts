import { useEffect, useMemo, useState } from 'preact/hooks';
import type { MidiPitch } from '../../../core/foundation/units.ts';
import { useApp } from '../../desk/appContext.ts';
import { keyMap } from '../../input/keyBars.ts';
import { keyLayout, printedOnKey } from '../../input/printedKeys.ts';

const NONE: ReadonlyMap<MidiPitch, string> = new Map();

/**
 * The key printed on each bar that one strikes, where that is wanted and keys strike bars at all.
 * @param lowest the bar that the leftmost key of the front row strikes
 */
export const useKeyCaps = (lowest: MidiPitch): ReadonlyMap<MidiPitch, string> => {
  const { desk } = useApp();
  const { keysPlay, keysShown } = desk.playSettings.value;
  const wanted = keysPlay && keysShown;
  const [layout, setLayout] = useState<ReadonlyMap<string, string>>();
  useEffect(() => {
    if (wanted && layout === undefined) void keyLayout().then(setLayout);
  }, [wanted, layout]);
  return useMemo(
    () =>
      wanted
        ? new Map([...keyMap(lowest)].map(([code, pitch]) => [pitch, printedOnKey(code, layout)]))
        : NONE,
    [wanted, layout, lowest],
  );
};
