import { BitReader, BitWriter } from "./bit-stream.ts";

/**
 * Whole numbers that follow a curve, in few bits: each is foretold from those before it by one of five fixed predictors, the best of
 * each block, and what it is off by stands in a Rice code. Predictors of RFC 9639, section 9.2.5 (fixed predictors); Rice
 * code of section 9.2.7, with one parameter a block. Differs: blocks go on from the one before, so that there are no samples to
 * warm up with, and the stream has no frames.
 */

/** Samples of a block. */
const BLOCK = 512;
const ORDERS = 5;
const ORDER_BITS = 3;
const RICE_BITS = 5;
/** More bits than this are not written at once. */
const LARGEST_RICE = 24;

/** Numbers within this many: what a predictor of the fourth order is off by, sixteen times as much, still fits 32 bits. */
export const LARGEST_WHOLE = 2 ** 24;

export function packWholes(values: Int32Array): Uint8Array {
  const to = new BitWriter();
  const history = new Int32Array(4);
  const off = Array.from({ length: ORDERS }, () => new Int32Array(BLOCK));
  for (let from = 0; from < values.length; from += BLOCK) {
    const block = values.subarray(from, from + BLOCK);
    foretell(block, history, off);
    const order = leastOff(off, block.length);
    const residual = off[order] as Int32Array;
    const rice = bestRice(residual, block.length);
    to.write(order, ORDER_BITS);
    to.write(rice, RICE_BITS);
    for (let i = 0; i < block.length; i++) writeRice(to, folded(residual[i] as number), rice);
  }
  return to.done();
}

/** @throws RangeError if the bytes end too soon */
export function unpackWholes(bytes: Uint8Array, count: number): Int32Array {
  const from = new BitReader(bytes);
  const values = new Int32Array(count);
  let [a, b, c, d] = [0, 0, 0, 0];
  for (let start = 0; start < count; start += BLOCK) {
    const order = from.read(ORDER_BITS);
    const rice = from.read(RICE_BITS);
    const end = Math.min(count, start + BLOCK);
    for (let i = start; i < end; i++) {
      const value =
        unfolded((from.readUnary() * 2 ** rice + from.read(rice)) >>> 0) + foretold(order, a, b, c, d);
      values[i] = value;
      d = c;
      c = b;
      b = a;
      a = value;
    }
  }
  return values;
}

/** @param a the number before, b the one before that, and so on */
function foretold(order: number, a: number, b: number, c: number, d: number): number {
  switch (order) {
    case 0:
      return 0;
    case 1:
      return a;
    case 2:
      return 2 * a - b;
    case 3:
      return 3 * a - 3 * b + c;
    default:
      return 4 * a - 6 * b + 4 * c - d;
  }
}

/** What each predictor is off by over a block: the difference of the one before it. @param history the last four, newest first */
function foretell(block: Int32Array, history: Int32Array, off: readonly Int32Array[]): void {
  let [a, b, c, d] = [...history] as [number, number, number, number];
  const [zeroth, first, second, third, fourth] = off as readonly Int32Array[] & {
    readonly [n in 0 | 1 | 2 | 3 | 4]: Int32Array;
  };
  for (let i = 0; i < block.length; i++) {
    const value = block[i] as number;
    zeroth[i] = value;
    first[i] = value - a;
    second[i] = value - 2 * a + b;
    third[i] = value - 3 * a + 3 * b - c;
    fourth[i] = value - 4 * a + 6 * b - 4 * c + d;
    d = c;
    c = b;
    b = a;
    a = value;
  }
  history.set([a, b, c, d]);
}

/** The predictor with the least sum of what it is off by. */
function leastOff(off: readonly Int32Array[], count: number): number {
  const sums = off.map((residual) => {
    let sum = 0;
    for (let i = 0; i < count; i++) sum += Math.abs(residual[i] as number);
    return sum;
  });
  return sums.indexOf(Math.min(...sums));
}

/** The parameter that takes the fewest bits, looked for beside the logarithm of the mean. */
function bestRice(residual: Int32Array, count: number): number {
  let sum = 0;
  for (let i = 0; i < count; i++) sum += folded(residual[i] as number);
  const guess = Math.min(LARGEST_RICE, Math.floor(Math.log2(Math.max(1, sum / count))));
  let best = { rice: 0, bits: Number.POSITIVE_INFINITY };
  for (let rice = Math.max(0, guess - 1); rice <= Math.min(LARGEST_RICE, guess + 2); rice++) {
    let bits = count * (rice + 1);
    for (let i = 0; i < count; i++) bits += folded(residual[i] as number) >>> rice;
    if (bits < best.bits) best = { rice, bits };
  }
  return best.rice;
}

function writeRice(to: BitWriter, value: number, rice: number): void {
  to.writeUnary(value >>> rice);
  to.write(value, rice);
}

/** 0, -1, 1, -2 … as 0, 1, 2, 3 … */
const folded = (value: number): number => ((value << 1) ^ (value >> 31)) >>> 0;
const unfolded = (value: number): number => (value >>> 1) ^ -(value & 1);
