import type { BarRange } from '../../../core/piece/motifOfReading.ts';
import { motifRange } from '../../../core/piece/piece.ts';
import type { Command } from '../command.ts';
import { step } from './step.ts';

/** The motif is these bars, or some of their notes. */
export const setMotif: Command<[range: BarRange]> = (desk, range) =>
  step(desk, 'cut the motif', old => ({ ...old, motifBars: range }));

/** Whether repeats of the idea follow straight on, or wait for its last barline. */
export const joinRepeats: Command<[joined: boolean]> = (desk, joined) =>
  step(desk, joined ? 'repeats straight on' : 'repeats from barline to barline', old => {
    const { joined: was, ...range } = motifRange(old);
    if ((was === true) === joined) return old;
    return { ...old, motifBars: joined ? { ...range, joined } : range };
  });

/** One more motif from the same take; numbered on from the last. */
export const addMotif: Command<[range: BarRange]> = (desk, range) => {
  const more = desk.document.history?.present.piece.moreMotifs ?? [];
  const id = String(Math.max(1, ...more.map(cut => Number(cut.id))) + 1);
  return step(desk, `motif ${id} from the chosen notes`, old => ({
    ...old,
    moreMotifs: [...more, { ...range, id }],
  }));
};

/** Takes one of the further motifs away. */
export const dropMotif: Command<[id: string]> = (desk, id) =>
  step(desk, `take motif ${id} away`, old => ({
    ...old,
    moreMotifs: (old.moreMotifs ?? []).filter(other => other.id !== id),
  }));
