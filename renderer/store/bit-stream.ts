/** Bits one after the other, the highest of a number first. */
export class BitWriter {
  private bytes = new Uint8Array(4096);
  private length = 0;
  private pending = 0;
  private pendingBits = 0;

  /** @param bits 0 to 24; of the value the lowest so many */
  write(value: number, bits: number): void {
    // At most 7 bits are pending: 31 fit.
    this.pending = (this.pending << bits) | (value & ((1 << bits) - 1));
    this.pendingBits += bits;
    while (this.pendingBits >= 8) {
      this.pendingBits -= 8;
      this.push((this.pending >>> this.pendingBits) & 0xff);
    }
    this.pending &= (1 << this.pendingBits) - 1;
  }

  /** So many zeros and a one. */
  writeUnary(zeros: number): void {
    let left = zeros;
    for (; left >= 16; left -= 16) this.write(0, 16);
    this.write(1, left + 1);
  }

  /** Everything written, filled up with zeros to a whole byte. */
  done(): Uint8Array {
    if (this.pendingBits > 0) this.write(0, 8 - this.pendingBits);
    return this.bytes.slice(0, this.length);
  }

  private push(byte: number): void {
    if (this.length === this.bytes.length) {
      const larger = new Uint8Array(2 * this.bytes.length);
      larger.set(this.bytes);
      this.bytes = larger;
    }
    this.bytes[this.length++] = byte;
  }
}

export class BitReader {
  private at = 0;
  private current = 0;
  private left = 0;

  constructor(private readonly bytes: Uint8Array) {}

  /** @param bits 0 to 31 */
  read(bits: number): number {
    let value = 0;
    let wanted = bits;
    while (wanted > 0) {
      if (this.left === 0) this.next();
      const taken = Math.min(wanted, this.left);
      this.left -= taken;
      value = (value << taken) | ((this.current >>> this.left) & ((1 << taken) - 1));
      wanted -= taken;
    }
    return value;
  }

  /** Zeros up to the next one. */
  readUnary(): number {
    let zeros = 0;
    for (;;) {
      if (this.left === 0) this.next();
      const rest = this.current & ((1 << this.left) - 1);
      if (rest === 0) {
        zeros += this.left;
        this.left = 0;
        continue;
      }
      const lead = Math.clz32(rest) - (32 - this.left);
      this.left -= lead + 1;
      return zeros + lead;
    }
  }

  private next(): void {
    const byte = this.bytes[this.at++];
    if (byte === undefined) throw new RangeError("the take is cut off");
    this.current = byte;
    this.left = 8;
  }
}
