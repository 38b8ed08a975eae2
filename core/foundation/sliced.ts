/**
 * Work that can be done a little at a time: asked again and again it ends with its result, and whoever asks may do
 * something else in between. A slice is short however long the whole is.
 */
export type Sliced<T> = Generator<undefined, T, undefined>;

/**
 * Does all of it at once.
 * @example
 * finish((function* (): Sliced<number> { yield undefined; return 3 })()) // => 3
 */
export const finish = <T>(work: Sliced<T>): T => {
  for (;;) {
    const { done, value } = work.next();
    if (done === true) return value;
  }
};
