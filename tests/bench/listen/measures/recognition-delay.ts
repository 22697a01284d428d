import { centsBetween, HOP_SECONDS, type Truth } from "../corpus/truth.ts";
import type { Answer } from "../engines/answer.ts";

/** So many right frames in a row are no accident. */
const RIGHT_IN_A_ROW = 3;

/**
 * When the frames of a take could have told each note's pitch: the third frame in a row within 50 cents, its centre counted
 * from the true onset, and the engine's stated delay added. Frames printed for a whole take may know what came later, so
 * this compares engines; what a player sees is measured on the stream.
 */
export function delaysByFrames(truth: Truth, { frames, latencyMs }: Answer): number[] {
  if (latencyMs === undefined) return [];
  let first = 0;
  return truth.notes.map(({ on, off }) => {
    while (first > 0 && (frames[first]?.t ?? 0) > on) first--;
    while (first < frames.length && (frames[first]?.t ?? 0) < on) first++;
    let right = 0;
    for (let i = first; i < frames.length; i++) {
      const { t, f0 } = frames[i] ?? { t: Number.POSITIVE_INFINITY, f0: 0 };
      if (t >= off) break;
      const place = Math.round(t / HOP_SECONDS);
      const trueHz = truth.f0[place] ?? 0;
      if (trueHz === 0 || truth.voiced[place] !== 1) continue;
      right = f0 !== 0 && Math.abs(centsBetween(Math.abs(f0), trueHz)) <= 50 ? right + 1 : 0;
      if (right === RIGHT_IN_A_ROW) return 1000 * (t - on) + latencyMs;
    }
    return Number.POSITIVE_INFINITY;
  });
}
