import { simulateTake } from "../../../core/simulate/simulated-take.ts";
import { packSamples } from "../../../renderer/store/take-packing.ts";
import { exerciseOf } from "../../support/drills.ts";

const RATE_HZ = 48_000;

/** What a take needs, packed, of what it needs as 16-bit numbers and as it is in memory; and how quickly that is done. */
export function packedShares() {
  const take = simulateTake(exerciseOf({ octaves: 2 }), { seed: 5, plants: [], sampleRateHz: RATE_HZ });
  const sixteen = take.samples.map((sample) => Math.round(32_768 * sample) / 32_768);
  return { "16 bits": shareOf(sixteen), "other numbers": shareOf(take.samples) };
}

function shareOf(samples: Float32Array) {
  const began = performance.now();
  const { packed } = packSamples({ samples, sampleRateHz: RATE_HZ });
  const minutes = samples.length / RATE_HZ / 60;
  return {
    of16Bits: Math.round((100 * packed.byteLength) / (2 * samples.length)) / 100,
    ofMemory: Math.round((100 * packed.byteLength) / (4 * samples.length)) / 100,
    megabytesAMinute: Math.round(packed.byteLength / minutes / 1e5) / 10,
    msAMinute: Math.round((performance.now() - began) / minutes),
  };
}
