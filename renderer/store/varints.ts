/**
 * Whole numbers in as few bytes as they need, seven bits in each, the lowest first, as in LEB128 (DWARF 5, section 7.6); a
 * negative number -n stands as 2n - 1, another n as 2n.
 */
export class VarintWriter {
  private bytes = new Uint8Array(256);
  private length = 0;

  /** @param value whole, within ±2^52 */
  write(value: number): void {
    let rest = value < 0 ? -2 * value - 1 : 2 * value;
    if (this.length + 8 > this.bytes.length) this.grow();
    while (rest >= 128) {
      this.bytes[this.length++] = (rest % 128) + 128;
      rest = Math.floor(rest / 128);
    }
    this.bytes[this.length++] = rest;
  }

  /** Everything written so far. */
  done(): Uint8Array {
    return this.bytes.slice(0, this.length);
  }

  private grow(): void {
    const larger = new Uint8Array(2 * this.bytes.length);
    larger.set(this.bytes);
    this.bytes = larger;
  }
}

export class VarintReader {
  private at = 0;

  constructor(private readonly bytes: Uint8Array) {}

  /** @throws RangeError beyond the end */
  read(): number {
    let value = 0;
    let weight = 1;
    for (;;) {
      const byte = this.bytes[this.at++];
      if (byte === undefined) throw new RangeError("a number is cut off");
      value += (byte % 128) * weight;
      if (byte < 128) break;
      weight *= 128;
    }
    return value % 2 === 0 ? value / 2 : -(value + 1) / 2;
  }
}
