import type { Phrase } from '../../../core/take/memory.ts';
import { useApp } from '../../desk/appContext.ts';
import { caughtIn } from '../../desk/commands/playing.ts';

/** The phrases that one catch would keep now; follows what is struck. @param now as inputNow gives it */
export const useCaught = (now: number): readonly Phrase[] => {
  const { desk } = useApp();
  return caughtIn(desk.memory.value, now, desk.session.value, desk.chosen.value);
};
