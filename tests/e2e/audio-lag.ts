/**
 * How much later the sound of a file lies in a recording of it, where the sound card runs at another rate and no sample is
 * the same. Nothing of the program's own listening is used here.
 */

/** Both sounds are compared at this rate: a step is 0.02 ms. */
const COMPARED_HZ = 44_100;
/** Harmonics shorter than this are smoothed away: what sound cards and resampling do to them is no matter. */
const SMOOTHED_SECONDS = 0.0004;
/** A recording of a window's sound is this much like it; one that a slip has torn is not. */
const LIKE = 0.97;

/** The sound smoothed, and at the rate for comparing by linear interpolation. */
export function forComparing(samples: Float32Array, sampleRateHz: number): Float32Array {
  const width = Math.round(SMOOTHED_SECONDS * sampleRateHz);
  const smooth = new Float32Array(Math.max(0, samples.length - width));
  let sum = 0;
  for (let i = 0; i < samples.length; i++) {
    sum += samples[i] ?? 0;
    if (i >= width) {
      sum -= samples[i - width] ?? 0;
      smooth[i - width] = sum / width;
    }
  }
  const step = sampleRateHz / COMPARED_HZ;
  return Float32Array.from({ length: Math.floor(smooth.length / step) }, (_, n) => {
    const at = n * step;
    const low = Math.floor(at);
    const before = smooth[low] ?? 0;
    return before + (at - low) * ((smooth[low + 1] ?? before) - before);
  });
}

/**
 * Seconds by which a stretch of a file lies later in a recording, by cross-correlation; null where nothing near is like
 * it. The stretch should hold a change of note: a held tone is like itself a period later.
 *
 * @param guess  about how much later, to within `reach`
 */
export function laterBy(
  recording: Float32Array,
  file: Float32Array,
  stretch: { readonly from: number; readonly to: number },
  guess: number,
  reach: number,
): number | null {
  const first = Math.round(stretch.from * COMPARED_HZ);
  const sound = file.subarray(Math.max(0, first), Math.round(stretch.to * COMPARED_HZ));
  const middle = first + Math.round(guess * COMPARED_HZ);
  const most = Math.round(reach * COMPARED_HZ);
  let best = { likeness: 0, at: 0 };
  for (let at = middle - most; at <= middle + most; at++) {
    const likeness = likenessOf(sound, recording.subarray(Math.max(0, at), at + sound.length));
    if (likeness > best.likeness) best = { likeness, at };
  }
  return best.likeness < LIKE ? null : (best.at - first) / COMPARED_HZ;
}

/** Normalised correlation, -1 to 1; 0 where one is cut off. */
function likenessOf(one: Float32Array, other: Float32Array): number {
  if (one.length !== other.length) return 0;
  let both = 0;
  let ones = 0;
  let others = 0;
  for (let i = 0; i < one.length; i++) {
    const [a, b] = [one[i] ?? 0, other[i] ?? 0];
    both += a * b;
    ones += a * a;
    others += b * b;
  }
  return ones * others > 0 ? both / Math.sqrt(ones * others) : 0;
}
