/**
 * Powers of x, besides the highest and 1, in a primitive polynomial over two elements for each degree: x^4 + x^3 + 1 is
 * [3]. Source: the first polynomial of each degree in the table of m-sequences of New Wave Instruments (2001), the one
 * SciPy's max_len_seq cites.
 */
const INNER_POWERS: Readonly<Record<number, readonly number[]>> = {
  2: [1],
  3: [2],
  4: [3],
  5: [3],
  6: [5],
  7: [6],
  8: [7, 6, 1],
  9: [5],
  10: [7],
  11: [9],
  12: [11, 10, 4],
  13: [12, 11, 8],
  14: [13, 12, 2],
  15: [14],
  16: [15, 13, 4],
};

/**
 * One period of a maximum-length sequence: 2^degree - 1 values of 1 and -1, as like noise as a repeatable row can be.
 * Its circular autocorrelation is its length at 0 and -1 everywhere else (Golomb, "Shift Register Sequences", 1967).
 *
 * @param degree 2..16
 * @throws RangeError for any other degree
 */
export function maximumLengthSequence(degree: number): Int8Array {
  const powers = INNER_POWERS[degree];
  if (powers === undefined) throw new RangeError(`a sequence needs a degree of 2 to 16, not ${degree}`);
  const bits = new Uint8Array(2 ** degree - 1).fill(1, 0, degree);
  for (let k = degree; k < bits.length; k++) {
    let sum = bits[k - degree] ?? 0;
    for (const power of powers) sum ^= bits[k - degree + power] ?? 0;
    bits[k] = sum;
  }
  return Int8Array.from(bits, (bit) => 2 * bit - 1);
}
