import { hearChords } from "./chords/hear-chords.ts";
import { withHoles } from "./dropouts.ts";
import { type KnownReeds, reedsForChords } from "./known-reeds.ts";
import { Listener } from "./listener.ts";
import type { Listening } from "./listening.ts";

export { type Keeping, Listener } from "./listener.ts";

/**
 * Listens to a whole take: the streaming `Listener` fed with all of it.
 *
 * @param samples      one channel, nominally -1..1
 * @param sampleRateHz 8,000..192,000
 * @param onProgress   told after every second of the take which share, 0..1, is done
 * @param known        reeds of the instrument in hand, or null to listen without knowing it
 * @throws RangeError for a sample rate outside that
 */
export function listenToTake(
  samples: Float32Array,
  sampleRateHz: number,
  onProgress?: (share: number) => void,
  known: KnownReeds | null = null,
): Listening {
  const listener = new Listener(sampleRateHz, "everything", known);
  const step = Math.round(sampleRateHz);
  for (let at = 0; at < samples.length; at += step) {
    listener.push(samples.subarray(at, at + step));
    onProgress?.(Math.min(1, (at + step) / samples.length));
  }
  return withHoles(withChords(listener.finish(), samples, sampleRateHz, known), samples, sampleRateHz);
}

/** What was heard with the chords of a take, where what is known of the harp asks for them. */
export function withChords(
  listening: Listening,
  samples: Float32Array,
  sampleRateHz: number,
  known: KnownReeds | null,
): Listening {
  const reeds = known === null ? [] : reedsForChords(known);
  return reeds.length === 0 ? listening : { ...listening, chords: hearChords(samples, sampleRateHz, reeds) };
}
