import type { PackedTake } from "./history-entry.ts";
import { type PackTake, packTakeHere } from "./take-packing.ts";
import TakePackingWorker from "./take-packing.worker.ts?worker";

/** A shorter take is packed sooner than a worker has begun. */
const SHORT_SECONDS = 2;

/** Packs a take off the window's thread. */
export const packTakeInWorker: PackTake = (take) => {
  if (take.samples.length < SHORT_SECONDS * take.sampleRateHz) return packTakeHere(take);
  return new Promise((resolve) => {
    const worker = new TakePackingWorker();
    worker.onmessage = ({ data }: MessageEvent<PackedTake>) => {
      worker.terminate();
      resolve(data);
    };
    // A take must not be lost for want of a worker.
    worker.onerror = () => {
      worker.terminate();
      resolve(packTakeHere(take));
    };
    worker.postMessage(take);
  });
};
