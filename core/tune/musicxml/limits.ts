/** Bytes of a file as it is stored. A tune of 64 bars has some 100 kB; with these limits the largest file takes about two seconds on a slow machine. */
export const LARGEST_FILE = 4_000_000;
/** Bytes of the score within a compressed file, unpacked. */
export const LARGEST_UNPACKED = 4_000_000;
/** Files within a compressed file: the score, what lists it, pictures. */
export const MOST_ENTRIES = 1000;
/** Elements within elements; MusicXML itself needs about ten. */
export const DEEPEST_NESTING = 64;
/** A tune of 64 bars has some 5,000. */
export const MOST_ELEMENTS = 100_000;
/** Length of one bar. */
export const LONGEST_BAR_SEMIBREVES = 64;
/** Characters of a title or a field; what is beyond is cut. */
export const LONGEST_TEXT = 1000;
