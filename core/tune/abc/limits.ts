/** Times a section may be repeated, and highest number of an ending. */
export const MOST_TIMES = 100;
export const LONGEST_NOTE_SEMIBREVES = 64;
/** Of one tune; what is beyond is counted. */
export const MOST_REMARKS = 50;
/** Beats of a bar. */
export const MOST_BEATS = 64;
