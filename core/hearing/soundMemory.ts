/** Sound as it was remembered, and where it begins, in samples from the first that ever came. */
export interface RememberedSound {
  readonly from: number;
  readonly samples: Float32Array;
}

/** The last of the sound that goes on. It grows no larger, and is in memory alone. */
export interface SoundMemory {
  /** The next piece, of any length. */
  remember(samples: Float32Array): void;
  /** Lets go of all of it: what comes next is the first again. */
  forget(): void;
  /** What is remembered of the sound from one place to before another. */
  between(from: number, to: number): RememberedSound;
}

/** Full scale, as in a WAV file of 16 bits: what is kept is neither more nor less than such a file holds. */
const FULL = 32767;

/**
 * A memory of the last samples, two bytes each.
 * @param most samples that are kept
 * @example
 * const memory = createSoundMemory(4);
 * memory.remember(Float32Array.from([0, 1, 0, -1, 0, 1]));
 * [memory.between(0, 6).from, memory.between(3, 5).samples[0]] // => [2, -1]
 */
export const createSoundMemory = (most: number): SoundMemory => {
  const kept = new Int16Array(most);
  /** How many ever came. */
  let came = 0;
  return {
    remember: samples => {
      for (const sample of samples) {
        // What is no number is silence, as it is to whoever hears it.
        kept[came % most] = Math.round(Math.max(-1, Math.min(1, sample)) * FULL);
        came += 1;
      }
    },
    forget: () => {
      kept.fill(0);
      came = 0;
    },
    between: (wanted, end) => {
      const from = Math.max(0, came - most, Math.ceil(wanted));
      const length = Math.max(0, Math.min(came, Math.floor(end)) - from);
      return {
        from,
        samples: Float32Array.from({ length }, (_, i) => (kept[(from + i) % most] ?? 0) / FULL),
      };
    },
  };
};
