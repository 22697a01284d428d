/**
 * A recording without what the fake device slipped in: on a busy machine it now and then inserts a buffer of exact
 * zeros, which no recorded room holds, and then goes on where it was. Silence before and after the recording stays.
 */
export function withoutSlips(samples: Float32Array, sampleRateHz: number): Float32Array {
  const kept: Float32Array[] = [];
  let from = 0;
  let lastSound = -1;
  samples.forEach((sample, i) => {
    if (sample === 0) return;
    if (lastSound >= 0 && i - lastSound > 0.005 * sampleRateHz) {
      kept.push(samples.subarray(from, lastSound + 1));
      from = i;
    }
    lastSound = i;
  });
  kept.push(samples.subarray(from));
  const whole = new Float32Array(kept.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of kept) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
