import type { Seconds } from '../foundation/units.ts';
import type { Contact } from './contacts.ts';

/** A blow on a bar: its fundamental, and when the mallet fell. */
export interface Blow {
  readonly band: number;
  readonly loudness: number;
  /** When its fundamental began to rise. */
  readonly rose: Seconds;
  /** When it was struck: its modes may tell it sooner. */
  readonly at: Seconds;
  /** What is heard of the mallet touching it. */
  readonly contact?: Contact;
  /** The band of the bar it may have been on instead. */
  readonly otherwise?: number;
}
