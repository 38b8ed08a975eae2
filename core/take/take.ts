import type { Metre } from '../foundation/metre.ts';
import type { MidiPitch, Milliseconds, Seconds, Velocity } from '../foundation/units.ts';

/** One blow of a mallet (or finger) as it was played. */
export interface Strike {
  /** When it fell, on the take's clock. */
  readonly at: Seconds;
  readonly pitch: MidiPitch;
  readonly velocity: Velocity;
  /** The next-best pitch, where what was heard may be another bar's. */
  readonly nextBest?: MidiPitch;
  /** It was heard so softly beside the others that it may be somebody else's. */
  readonly perhapsNone?: true;
  /** When the note was let go, if the instrument said so. Pads send nothing, or nothing honest. */
  readonly until?: Seconds;
}

/** The click a take was played to. */
export interface Click {
  readonly metre: Metre;
  /**
   * When each beat fell, on the take's clock; beats[0] is on the first barline after the count-in.
   * Beats are the metre's tactus (dotted crotchets in 6/8), evenly or unevenly spaced.
   * At least two. Before the first and after the last the nearest beat length goes on.
   */
  readonly beats: readonly Seconds[];
}

export type TakeSource = 'midi' | 'screen' | 'keys' | 'microphone' | 'file' | 'mixed';

/** What was played, never altered afterwards: readings and corrections only refer to it. */
export interface Take {
  /** Sortable and unique. */
  readonly id: string;
  /** ISO 8601 date and time, for the register only. */
  readonly capturedAt: string;
  readonly source: TakeSource;
  /** The device or file it came from, as a person would know it. */
  readonly from: string;
  readonly click?: Click;
  /** How late this device reports strikes; subtracted by the reader. */
  readonly latency: Milliseconds;
  /** In order of time. */
  readonly strikes: readonly Strike[];
  /** Whether note-offs say how long a note was meant to be (keyboards) or not (pads). */
  readonly lengthsMean: boolean;
}
