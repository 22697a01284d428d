import { LIMITS } from "../reading/limits.ts";
import { DamagedFile } from "./read-archive.ts";

const MOST_TIMES = LIMITS.archiveUnpackedTimes.most;
const ALWAYS_ALLOWED_BYTES = 16 * 1024 * 1024;

/** Counts what comes out of a packed file, so that a small one that unpacks to no end is given up. */
export class UnpackLimit {
  private unpackedBytes = 0;

  constructor(private readonly packedBytes: number) {}

  /** @throws DamagedFile once too much came out */
  add(bytes: number): void {
    this.unpackedBytes += bytes;
    if (this.unpackedBytes > ALWAYS_ALLOWED_BYTES + MOST_TIMES * this.packedBytes) {
      throw new DamagedFile(`unpacks to more than ${MOST_TIMES} times its size, which no archive does`);
    }
  }
}

/** How gzip begins. Source: RFC 1952, 2.3.1. */
export const beginsLikeGzip = (bytes: Uint8Array): boolean => bytes[0] === 0x1f && bytes[1] === 0x8b;

export const NOT_GZIP = "not an archive of this program: it does not begin as gzip does";
export const NOT_WHOLE = "damaged or cut off: it cannot be unpacked to its end";
