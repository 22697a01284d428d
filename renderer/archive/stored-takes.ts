import type { ArchivedTake } from "../../core/archive/archive-items.ts";
import type { StoredTake } from "../store/history-entry.ts";

/** A stored take as an archive holds it. Machines that browsers run on have the little end first, as the format has. */
export function archivedTake(take: StoredTake): ArchivedTake {
  if ("packed" in take) {
    const { sampleRateHz, count, step, packed } = take;
    return { about: { form: "packed", sampleRateHz, count, step }, bytes: packed.slice() };
  }
  const { sampleRateHz, samples } = take;
  const bytes = new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength).slice();
  return { about: { form: "float32", sampleRateHz, count: samples.length }, bytes };
}

/** The other way. */
export function storedTake({ about, bytes }: ArchivedTake): StoredTake {
  const { sampleRateHz } = about;
  if (about.form === "packed") {
    return { sampleRateHz, count: about.count, step: about.step, packed: bytes };
  }
  return { sampleRateHz, samples: new Float32Array(bytes.slice().buffer) };
}
