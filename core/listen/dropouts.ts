/** Shorter runs of exact zeros occur in quiet passages. */
const SHORTEST_SECONDS = 0.002;
/** Longer ones are a pause. */
const LONGEST_SECONDS = 0.1;
/** Right beside a hole sounds as much as a little further off: a note that ends has faded by then. */
const EDGE_SECONDS = 0.003;
const AROUND_SECONDS = 0.012;
const ABRUPT_SHARE = 0.5;
/** Softer than -60 dBFS a hole is not heard. */
const LEAST_PEAK = 0.001;

/**
 * Counts the holes a sound system left in a recording: exact zeros, 2 to 100 ms long, cut out of sound. A microphone is
 * never exactly silent by itself.
 */
export function countDropouts(samples: Float32Array, sampleRateHz: number): number {
  const edge = Math.round(EDGE_SECONDS * sampleRateHz);
  const around = Math.round(AROUND_SECONDS * sampleRateHz);
  const peak = (from: number, to: number) =>
    samples
      .subarray(Math.max(0, from), Math.max(0, to))
      .reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  const isCut = (beside: number, further: number) => beside >= LEAST_PEAK && beside >= ABRUPT_SHARE * further;
  let dropouts = 0;
  for (let from = 0; from < samples.length; from++) {
    if (samples[from] !== 0) continue;
    let to = from;
    while (samples[to] === 0) to++;
    const lasts = (to - from) / sampleRateHz;
    const isHole =
      lasts >= SHORTEST_SECONDS &&
      lasts <= LONGEST_SECONDS &&
      isCut(peak(from - edge, from), peak(from - around, from)) &&
      isCut(peak(to, to + edge), peak(to, to + around));
    if (isHole) dropouts++;
    from = to;
  }
  return dropouts;
}
