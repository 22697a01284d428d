/** Length of one bar. */
export const LONGEST_BAR_SEMIBREVES = 64;
/** Characters of a title or a field; what is beyond is cut. */
export const LONGEST_TEXT = 1000;
