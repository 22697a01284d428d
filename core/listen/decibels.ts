/** Level of a mean square in dBFS; digital silence reads -140. */
export const decibels = (meanSquare: number): number => 10 * Math.log10(meanSquare + 1e-14);
