/**
 * Reading an element that must be there. An index out of range is a mistake of the program, which a
 * fallback (`?? 0`) would turn into a silent nought and a wrong page. In tests these throw; in the built
 * app `__CHECK_INDICES__` is false, so the bundler leaves the bare access. One function for each kind of
 * array, so that each stays as quick as the access itself.
 */
declare const __CHECK_INDICES__: boolean | undefined;

const CHECKED = typeof __CHECK_INDICES__ !== 'undefined' && __CHECK_INDICES__;

const outOfRange = (length: number, i: number): never => {
  throw new RangeError(`no element ${String(i)} among ${String(length)}`);
};

/** The element of a list that is known to be there. @example itemAt([4, 5], 1) // => 5 */
export const itemAt = <T>(list: readonly T[], i: number): T => {
  if (CHECKED && !(i in list)) outOfRange(list.length, i);
  return list[i] as T;
};

/** The same of whole numbers. @example intAt(Int32Array.of(4, 5), 1) // => 5 */
export const intAt = (list: Int32Array, i: number): number => {
  if (CHECKED && !(i in list)) outOfRange(list.length, i);
  return list[i] as number;
};

/** The same of real numbers. @example realAt(Float64Array.of(0.5), 0) // => 0.5 */
export const realAt = (list: Float64Array, i: number): number => {
  if (CHECKED && !(i in list)) outOfRange(list.length, i);
  return list[i] as number;
};

/** The same of small whole numbers. @example byteAt(Uint8Array.of(7), 0) // => 7 */
export const byteAt = (list: Uint8Array, i: number): number => {
  if (CHECKED && !(i in list)) outOfRange(list.length, i);
  return list[i] as number;
};
