/** How long a piece should be, in seconds, where a school asks for that. */
export interface AskedLength {
  readonly least: number;
  readonly most: number;
}

/** The longest length that can be asked for, in seconds: an hour. */
export const MOST_ASKED = 3600;

/**
 * Minutes and seconds.
 * @param seconds 0 or more; rounded to whole ones
 * @example
 * minutes(75) // => '1:15'
 * minutes(59.6) // => '1:00'
 */
export const minutes = (seconds: number): string => {
  const whole = Math.round(seconds);
  return `${String(Math.floor(whole / 60))}:${String(whole % 60).padStart(2, '0')}`;
};

/**
 * A length beside what is asked for, in words.
 * @param asked undefined where the school asks for nothing
 * @example
 * lengthWords(75, { least: 60, most: 210 }) // => '1:15, within 1:00 to 3:30'
 * lengthWords(21, { least: 60, most: 210 }) // => '0:21, shorter than 1:00 to 3:30'
 * lengthWords(21) // => '0:21'
 */
export const lengthWords = (seconds: number, asked?: AskedLength): string => {
  if (asked === undefined) return minutes(seconds);
  const whole = Math.round(seconds);
  const said = whole < asked.least ? 'shorter than' : whole > asked.most ? 'longer than' : 'within';
  return `${minutes(seconds)}, ${said} ${minutes(asked.least)} to ${minutes(asked.most)}`;
};
