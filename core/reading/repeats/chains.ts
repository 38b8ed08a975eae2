import { intAt } from '../model/at.ts';
/**
 * The playings of each note of an idea that comes again, in order of time: chains of events along
 * `next`. Events that nothing repeats are chains of one.
 * @param next for every event the event one period later that repeats it, or -1
 * @example chainsOf(Int32Array.of(2, -1, 3, -1)) // => [[0, 2, 3], [1]]
 */
export const chainsOf = (next: Int32Array): number[][] => {
  const follows = new Uint8Array(next.length);
  next.forEach(j => {
    if (j >= 0) follows[j] = 1;
  });
  const chains: number[][] = [];
  for (let head = 0; head < next.length; head++) {
    if (follows[head] === 1) continue;
    const chain: number[] = [];
    for (let j = head; j >= 0; j = intAt(next, j)) chain.push(j);
    chains.push(chain);
  }
  return chains;
};
