import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { playRecordedHarmonica } from "../../../outside/fluidsynth.ts";
import { medianHz, praatPitch } from "../../../outside/praat.ts";

/** Keys that both SoundFonts have recorded. */
export const LOWEST_KEY = 48;
export const HIGHEST_KEY = 96;
const STEP_SECONDS = 1.5;
const HELD_SECONDS = 1;

/** How far each key of a SoundFont lies from equal temperament on A4 = 440 Hz, in cents, as Praat measures it. */
export function fontTuning(soundFont: string): (key: number) => number {
  const folder = mkdtempSync(path.join(tmpdir(), "bench-chords-"));
  try {
    const keys = Array.from({ length: HIGHEST_KEY - LOWEST_KEY + 1 }, (_, k) => LOWEST_KEY + k);
    const notes = keys.map((key, k) => ({
      key,
      onSeconds: 0.5 + k * STEP_SECONDS,
      offSeconds: 0.5 + k * STEP_SECONDS + HELD_SECONDS,
    }));
    const frames = praatPitch(playRecordedHarmonica(folder, "keys", notes, 0.6, soundFont));
    const cents = notes.map(({ key, onSeconds }) => {
      const hz = medianHz(frames, onSeconds + 0.15, onSeconds + 0.45);
      const off = 100 * (69 + 12 * Math.log2(hz / 440) - key);
      // Where Praat reads another octave, or nothing, the font is taken as it is written.
      return Math.abs(off) < 60 ? off : 0;
    });
    return (key) => cents[key - LOWEST_KEY] ?? 0;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
