/** Characters of one file; far above any tune book, below what a window can hold several times over. */
export const LARGEST_TEXT = 50_000_000;
export const MOST_TUNES = 100_000;
/** Characters of one tune: some 25,000 notes, read in about a second. */
export const LARGEST_TUNE = 100_000;
/** Notes of one tune, repeats and parts played out: three hours of quavers at a reel's tempo. */
export const MOST_NOTES = 50_000;
export const MOST_BARS = 20_000;
/** Brackets within brackets in an order of parts. */
export const DEEPEST_PARTS = 16;
/** Parts of an order of parts, written out. */
export const MOST_PARTS = 1000;
/** Times a section may be repeated, and highest number of an ending. */
export const MOST_TIMES = 100;
export const LONGEST_NOTE_SEMIBREVES = 64;
/** Of one tune; what is beyond is counted. */
export const MOST_REMARKS = 50;

/** A number with commas between thousands, so that a limit can be read. */
export function withCommas(count: number): string {
  return String(count).replace(/\B(?=(\d{3})+$)/g, ",");
}
