/** A set of numbers from 0 on, 32 to a word. */
export type Bits = Uint32Array;

export const noBits = (count: number): Bits => new Uint32Array(Math.ceil(count / 32));

export function bitsOf(numbers: Iterable<number>, count: number): Bits {
  const bits = noBits(count);
  for (const number of numbers) addBit(bits, number);
  return bits;
}

export function addBit(bits: Bits, number: number): void {
  bits[number >>> 5] = (bits[number >>> 5] ?? 0) | (1 << (number & 31));
}

export const hasBit = (bits: Bits, number: number): boolean =>
  ((bits[number >>> 5] ?? 0) & (1 << (number & 31))) !== 0;

/** Whether every number of the first is in the second. */
export const isWithin = (one: Bits, other: Bits): boolean =>
  one.every((word, place) => (word & ~(other[place] ?? 0)) === 0);

export const areApart = (one: Bits, other: Bits): boolean =>
  one.every((word, place) => (word & (other[place] ?? 0)) === 0);

export const without = (one: Bits, other: Bits): Bits =>
  one.map((word, place) => word & ~(other[place] ?? 0));
export const together = (one: Bits, other: Bits): Bits =>
  one.map((word, place) => word | (other[place] ?? 0));
export const inBoth = (one: Bits, other: Bits): Bits => one.map((word, place) => word & (other[place] ?? 0));

export function numbersIn(bits: Bits): readonly number[] {
  const numbers: number[] = [];
  for (const [place, word] of bits.entries())
    for (let rest = word; rest !== 0; rest &= rest - 1)
      numbers.push(32 * place + 31 - Math.clz32(rest & -rest));
  return numbers;
}

/** How many numbers are in both. */
export function countBoth(one: Bits, other: Bits): number {
  let count = 0;
  for (let place = 0; place < one.length; place++) {
    // Bits of a word counted in parallel: Warren, Hacker's Delight, figure 5-2.
    let word = (one[place] ?? 0) & (other[place] ?? 0);
    word -= (word >>> 1) & 0x55555555;
    word = (word & 0x33333333) + ((word >>> 2) & 0x33333333);
    count += Math.imul((word + (word >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
  }
  return count;
}
