import { useEffect, useState } from 'preact/hooks';
import type { Seconds } from '../../../core/foundation/units.ts';
import { inputNow } from '../../desk/acts/striking.ts';

/** The time on the clock of all input; what uses it is drawn anew at least so often. @param every in ms */
export const useNow = (every: number): Seconds => {
  const [, tick] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => {
      tick(times => times + 1);
    }, every);
    return () => {
      clearInterval(timer);
    };
  }, [every]);
  return inputNow();
};
