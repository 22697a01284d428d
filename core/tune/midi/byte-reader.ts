import { withCommas } from "../../reading/limits.ts";
import { TuneFault } from "../tune-fault.ts";

/** A stretch of a file, read from its beginning; whatever is not there is a fault that names the byte, from 0. */
export class ByteReader {
  readonly #bytes: Uint8Array;
  readonly #end: number;
  at: number;

  constructor(bytes: Uint8Array, at: number, end: number) {
    this.#bytes = bytes;
    this.at = at;
    this.#end = end;
  }

  get left(): number {
    return this.#end - this.at;
  }

  byte(): number {
    const value = this.at < this.#end ? this.#bytes[this.at] : undefined;
    if (value === undefined) throw new TuneFault(`cut off at byte ${withCommas(this.at)}, within an event`);
    this.at++;
    return value;
  }

  peek(): number {
    const value = this.byte();
    this.at--;
    return value;
  }

  number(count: number): number {
    let value = 0;
    for (let one = 0; one < count; one++) value = value * 256 + this.byte();
    return value;
  }

  /** Seven bits a byte, four bytes at most. */
  variable(): number {
    const start = this.at;
    let value = 0;
    for (let count = 0; count < 4; count++) {
      const byte = this.byte();
      value = value * 128 + (byte & 0x7f);
      if (byte < 0x80) return value;
    }
    throw new TuneFault(`broken at byte ${withCommas(start)}: a length of more than four bytes`);
  }

  data(): number {
    const value = this.byte();
    if (value < 0x80) return value;
    throw new TuneFault(
      `broken at byte ${withCommas(this.at - 1)}: a data byte of ${value}; at most 127 is possible`,
    );
  }

  take(length: number): Uint8Array {
    if (length > this.left) {
      throw new TuneFault(
        `cut off at byte ${withCommas(this.at)}: ${withCommas(length)} bytes are announced, ${withCommas(this.left)} are there`,
      );
    }
    this.at += length;
    return this.#bytes.subarray(this.at - length, this.at);
  }

  part(length: number): ByteReader {
    const start = this.at;
    this.take(length);
    return new ByteReader(this.#bytes, start, start + length);
  }
}
