import { signature, type Key } from '../foundation/key.ts';
import { fifthsOf, type Spelled, type Letter } from '../foundation/pitch.ts';

/**
 * The alteration a key signature gives a letter.
 * @example
 * signatureAlter(key('D'), 'F') // => 1
 * signatureAlter(key('F'), 'B') // => -1
 */
export const signatureAlter = (k: Key, step: Letter): number => {
  const count = signature(k);
  const place = fifthsOf({ letter: step, alter: 0 }) + 1; // F is 0 … B is 6
  if (count > 0) return place < count ? 1 : 0;
  return 6 - place < -count ? -1 : 0;
};

/** Remembers, through one bar, which signs are in force, and says which must be drawn. */
export interface SignsInForce {
  /** The sign to draw for a pitch, or undefined for none; `tied` notes repeat no sign. */
  readonly next: (spelled: Spelled, tied: boolean) => { accidental?: number; cautionary?: boolean };
}

/**
 * Accidentals of one bar. A sign holds for its letter and octave to the barline; a note that was
 * altered in the bar before, or in another octave of this bar, gets a cautionary sign when it
 * goes back to the signature, and so does one that is tied into another key (common practice, no source).
 * @param keyBefore the key of the bar before
 */
export const signsForBar = (
  k: Key,
  before: ReadonlyMap<string, number>,
  keyBefore = k,
): SignsInForce & { seen: Map<string, number> } => {
  const force = new Map<string, number>();
  const reminded = new Set<string>();
  const heldOver = new Set<string>();
  const seen = new Map<string, number>();
  const next = (spelled: Spelled, tied: boolean): { accidental?: number; cautionary?: boolean } => {
    const place = spelled.letter + String(spelled.octave);
    const inForce = force.get(place) ?? signatureAlter(k, spelled.letter);
    const normal = signatureAlter(k, spelled.letter);
    if (tied) {
      // Tied into a key that has its letter otherwise, it says once more what it is.
      const isSame = signatureAlter(keyBefore, spelled.letter) === normal;
      if (isSame || spelled.alter === normal || heldOver.has(place)) return {};
      heldOver.add(place);
      return { accidental: spelled.alter, cautionary: true };
    }
    if (spelled.alter !== normal) seen.set(spelled.letter, spelled.alter);
    if (inForce !== spelled.alter) {
      force.set(place, spelled.alter);
      return { accidental: spelled.alter };
    }
    const elsewhere = [...force].some(
      ([p, alter]) => p !== place && p.startsWith(spelled.letter) && alter !== spelled.alter,
    );
    const barBefore = before.get(spelled.letter);
    const due = elsewhere || (barBefore !== undefined && barBefore !== spelled.alter);
    if (due && !force.has(place) && !reminded.has(place)) {
      reminded.add(place);
      return { accidental: spelled.alter, cautionary: true };
    }
    return {};
  };
  return { next, seen };
};
