/** Blocks that levels are compared by. */
const BLOCK_SECONDS = 0.05;
/** What sounds within this of the loudest block belongs to the note. */
const SOUNDING_SHARE = 0.1;
/** Attack and release are left out. */
const ATTACK_SECONDS = 0.25;
const RELEASE_SECONDS = 0.1;

/**
 * The longest stretch of a recording that sounds without a break, its attack and release left out.
 *
 * @param samples one channel
 * @returns a view of it; empty where nothing sounds for long enough
 */
export function settledStretch(samples: Float32Array, rateHz: number): Float32Array {
  const length = Math.max(1, Math.round(BLOCK_SECONDS * rateHz));
  const powers = Array.from({ length: Math.floor(samples.length / length) }, (_, block) => {
    let sum = 0;
    for (const sample of samples.subarray(block * length, (block + 1) * length)) sum += sample * sample;
    return sum;
  });
  const least = SOUNDING_SHARE ** 2 * powers.reduce((most, power) => Math.max(most, power), 0);
  let best = { from: 0, to: 0 };
  let from = 0;
  powers.forEach((power, block) => {
    if (!(power > least)) from = block + 1;
    else if (block + 1 - from > best.to - best.from) best = { from, to: block + 1 };
  });
  const start = best.from * length + Math.round(ATTACK_SECONDS * rateHz);
  const end = best.to * length - Math.round(RELEASE_SECONDS * rateHz);
  return samples.subarray(start, Math.max(start, end));
}
