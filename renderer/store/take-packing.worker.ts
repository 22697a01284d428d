import type { KeptTake, PackedTake } from "./history-entry.ts";
import { packSamples } from "./take-packing.ts";

self.onmessage = ({ data }: MessageEvent<KeptTake>) => {
  const packed: PackedTake = packSamples(data);
  self.postMessage(packed, { transfer: [packed.packed.buffer] });
};
