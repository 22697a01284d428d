/** OEIS A291810 as quoted in the project's fact sheet, section 1 [F 3]: 1 blow, 1 draw, 2 blow, 2 draw … 10 draw. */
export const STOCK_SEQUENCE = [0, 2, 4, 7, 7, 11, 12, 14, 16, 17, 19, 21, 24, 23, 28, 26, 31, 29, 36, 33];
