/** Ratios of the fact sheet, section 3: ratio, cents and deviation from equal temperament as printed there [calc, 1200·log2 of the ratio]. */
export const PRINTED_RATIOS: readonly (readonly [ratio: string, cents: number, deviation: number | null])[] =
  [
    ["9/8", 203.91, 3.91],
    ["10/9", 182.4, -17.6],
    ["7/6", 266.87, -33.13],
    ["19/16", 297.51, -2.49],
    ["6/5", 315.64, 15.64],
    ["5/4", 386.31, -13.69],
    ["21/16", 470.78, -29.22],
    ["4/3", 498.04, -1.96],
    ["27/20", 519.55, 19.55],
    ["3/2", 701.96, 1.96],
    ["8/5", 813.69, 13.69],
    ["5/3", 884.36, -15.64],
    ["27/16", 905.87, 5.87],
    ["7/4", 968.83, -31.17],
    ["16/9", 996.09, -3.91],
    ["9/5", 1017.6, 17.6],
    ["15/8", 1088.27, -11.73],
    ["81/80", 21.51, null],
    ["64/63", 27.26, null],
  ];

/**
 * Per-hole schemes for the standard layout in whole cents from equal temperament on the key note, fact sheet section 3 [F 19]:
 * blow 1 4 7 10, blow 2 5 8, blow 3 6 9; draw 1 4 8, draw 2, draw 3 7, draw 5 9, draw 6 10.
 */
export const PRINTED_SCHEMES = {
  "just-first-position": { blow: [0, -14, 2], draw: [4, 2, -12, -2, -16] },
  "just-sevenths": { blow: [0, -14, 2], draw: [4, 2, -12, -29, 6] },
  "just-third-position": { blow: [0, -14, 2], draw: [4, 2, -12, 20, 6] },
  "compromise-second-and-third": { blow: [0, -14, 2], draw: [4, 2, -12, -2, 6] },
  "nineteen-limit": { blow: [0, -14, 2], draw: [4, 2, -12, 1, 6] },
} as const;

export const BLOW_GROUPS: readonly (readonly number[])[] = [
  [1, 4, 7, 10],
  [2, 5, 8],
  [3, 6, 9],
];
export const DRAW_GROUPS: readonly (readonly number[])[] = [[1, 4, 8], [2], [3, 7], [5, 9], [6, 10]];
