// What a portable file may hold: above the largest class library of a school, and small enough that a file
// made to do harm is refused before it fills the memory.

/** Most bytes of the file itself: 256 MiB. */
export const MOST_PORTABLE_BYTES = 256 * 1024 * 1024;

/** Most bytes of all that is in it: 512 MiB. */
export const MOST_UNPACKED_BYTES = 512 * 1024 * 1024;

/** Most files in it: what a zip archive without its 64-bit extension can count (APPNOTE 6.3.9, section 4.4.21). */
export const MOST_PACKED_FILES = 65_535;
