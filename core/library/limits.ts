// What a file of a class library may hold. Everything is far above any lesson's work, and small enough
// that a file made to do harm, or spoilt by chance into figures that are still figures, cannot freeze or
// blank a view: it is refused with a reason while everything else opens.

/** Most bytes one file may have: 16 MiB. */
export const MOST_BYTES = 16 * 1024 * 1024;

/** How deep lists and fields may lie in each other; a piece needs about ten. */
export const MOST_DEPTH = 40;

/** Strikes, notes, beats of the click or taps, each: as many as a MIDI file may bring. */
export const MOST_STORED_NOTES = 20_000;

/** Corrections, statements, signs over the stave. */
export const MOST_STEPS = 5_000;

/** Where a piece may end, and the longest duration, in semibreves. */
export const MOST_SEMIBREVES = 8_192;

/** Bars of a page. */
export const MOST_STORED_BARS = 8_192;

/** Figures of a fraction: two of them multiplied are still exact in 2^53. */
export const MOST_FIGURE = 2 ** 26;

/**
 * What every place of a page divides: notes as short as 1/4096, in threes, fives and sevens within each other. Sums of
 * places on one such grid stay on it, however many there are, and exact.
 */
export const FINEST_GRID = 2 ** 12 * 3 ** 5 * 5 ** 2 * 7 ** 2;

/**
 * The longest upbeat of a statement, in bars: one of less than a bar may come under a statement that was made as slow as
 * can be. A page writes it in one piece.
 */
export const LONGEST_UPBEAT = 64;

/** Grace notes before the last one of a note: a ruff has two. */
export const MOST_RUFF = 8;

/** Seconds on the clock of a take: more than a hundred days. */
export const MOST_SECONDS = 1e7;

/** Beats a minute. */
export const TEMPI = { least: 1, most: 2_000 } as const;

/** How often a statement may be stated straight after itself. */
export const MOST_TIMES = 999;

/** Letters of a title, a code name, a name in a folder. */
export const MOST_LETTERS = 1_000;

/** Notes a piece may come to when all its statements are written out. */
export const MOST_SOUNDING = 60_000;

/** Strokes of one glissando: a bar each, and no instrument has more than MIDI has pitches. */
export const MOST_DRAWN = 128;
