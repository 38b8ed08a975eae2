/** What frame, padding and the line of metronome marks take of a window's height, in CSS pixels. */
const TAKEN = 232;
/** Room for brackets over a stave, in CSS pixels. */
export const BRACKETS = 22;
/** What a stave with usual notes takes, in stave units: four spaces, and ink over and under them. */
const STAVE = 80;
/** Staves of 22 px are the smallest that can be read at a desk; those of 36 px are as large as on Write's cards. */
const SMALLEST = 0.55;
const LARGEST = 0.9;
/** What windows as high as a full screen bear. */
const LARGEST_ON_LARGE = 1.17;
const LARGE_HEIGHT = 960;

/**
 * The scale at which two systems of so many parts are in sight in a window, as far as their staves can be read; 1 draws
 * a stave 40 px high. Rows of text under the notes would be too small for a screen under the usual scale.
 * @param parts how many staves a system has
 * @param height of the window, in CSS pixels
 */
export const growScale = (parts: number, height: number, hasRows: boolean): number => {
  const largest = height >= LARGE_HEIGHT ? LARGEST_ON_LARGE : LARGEST;
  if (hasRows) return largest;
  const each = (height - TAKEN) / (2 * Math.max(1, parts));
  return Math.min(largest, Math.max(SMALLEST, (each - BRACKETS) / STAVE));
};
