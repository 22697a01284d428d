/** 97.5 per cent point of the normal distribution. */
const Z_95 = 1.959963984540054;

/** A share with what it may be: low <= share <= high, all 0..1. */
export interface ShareInterval {
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Wilson's score interval of a share at 95 per cent, without correction for continuity.
 *
 * @param of  n >= 1
 * @param hit 0 to n
 * @returns null where there is nothing to take a share of
 * @throws RangeError if hit lies outside 0..of
 *
 * Source: E. B. Wilson, JASA 22 (1927) 209-212; method 3 of R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872.
 */
export function wilsonInterval(hit: number, of: number): ShareInterval | null {
  if (hit < 0 || hit > of) throw new RangeError(`${hit} of ${of} is no share`);
  if (of === 0) return null;
  const share = hit / of;
  const z2 = Z_95 * Z_95;
  const middle = (2 * hit + z2) / (2 * (of + z2));
  const half = (Z_95 * Math.sqrt(z2 + 4 * hit * (1 - share))) / (2 * (of + z2));
  // At the ends the formula gives the end itself but for rounding.
  const low = hit === 0 ? 0 : middle - half;
  const high = hit === of ? 1 : middle + half;
  return { share, low, high };
}
