import type { KeptTake, StoredTake } from "./history-entry.ts";

/** What a stored take needs on the disk; null where none is stored. */
export function bytesOfTake(take: StoredTake | null): number | null {
  if (take === null) return null;
  return "packed" in take ? take.packed.byteLength : take.samples.byteLength;
}

/** A take as it is to be stored. */
export async function packTake({ samples, sampleRateHz }: KeptTake): Promise<StoredTake> {
  // A view into a larger buffer would store the whole buffer.
  return { sampleRateHz, samples: samples.slice() };
}

/** The samples of a stored take. */
export async function unpackTake(take: StoredTake): Promise<KeptTake> {
  if ("packed" in take) throw new RangeError("a packed take");
  return take;
}
