import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { seededRandom } from "../../../../core/exercise/seeded-random.ts";
import { listenToTake } from "../../../../core/listen/listen-to-take.ts";
import { isReading, readingOf } from "../../../../core/workshop/measure/reed-reading.ts";
import { missingForFluidsynth, playRecordedHarmonica } from "../../../outside/fluidsynth.ts";
import { medianHz, praatPitch } from "../../../outside/praat.ts";
import { hasTool } from "../../../outside/tools.ts";
import { readSound } from "../../listen/corpus/wav-file.ts";
import { quantile } from "../../listen/measures/statistics.ts";
import { HIGHEST_KEY, LOWEST_KEY } from "../../marks/reed-samples.ts";

const NOTE_SECONDS = 1;
const STEP_SECONDS = 1.4;
/** Praat's own window and the attack are left out of what is compared. */
const FROM_SECONDS = 0.35;
const TO_SECONDS = 0.95;

/** Reeds of a recorded harmonica, three notes each, bent by whole cents by chance, against Praat on the same sound. */
export function recordedReeds(seed: number): readonly string[] {
  const missing = [...missingForFluidsynth, ...(hasTool("praat") ? [] : ["praat"])];
  if (missing.length > 0) return [`recorded reeds: not run, ${missing.join(" and ")} not installed`];
  const folder = mkdtempSync(path.join(tmpdir(), "bench-measure-"));
  try {
    const random = seededRandom(seed);
    const keys = Array.from({ length: HIGHEST_KEY - LOWEST_KEY + 1 }, (_, n) => LOWEST_KEY + n);
    const notes = keys.flatMap((key, n) => {
      const bendCents = Math.round(random() * 60 - 30);
      return [0, 1, 2].map((time) => {
        const onSeconds = 1 + (3 * n + time) * STEP_SECONDS;
        return { key, bendCents, onSeconds, offSeconds: onSeconds + NOTE_SECONDS };
      });
    });
    const file = playRecordedHarmonica(folder, "reeds", notes, 1);
    const { samples, sampleRateHz } = readSound(file);
    const frames = praatPitch(file);
    const heard = listenToTake(samples, sampleRateHz).notes;
    const compared = notes.map(({ onSeconds }) => {
      const note = heard.find((one) => Math.abs(one.onSeconds - onSeconds) < 0.3);
      const read = note === undefined ? "no steady pitch" : readingOf(note);
      const hz = medianHz(frames, onSeconds + FROM_SECONDS, onSeconds + TO_SECONDS);
      if (!isReading(read) || !(hz > 0)) return null;
      return { cents: 100 * (read.midi - (69 + 12 * Math.log2(hz / 440))), wander: read.wanderCents };
    });
    const read = compared.filter((one) => one !== null);
    const off = read.map(({ cents }) => Math.abs(cents));
    const wander = read.map((one) => one.wander);
    return [
      `recorded reeds, keys ${LOWEST_KEY} to ${HIGHEST_KEY}, three notes each, against Praat's median of the same notes:`,
      `  ${read.length} of ${notes.length} notes count; distance in cents: middle ${quantile(off, 0.5).toFixed(2)}, 95 % ${quantile(off, 0.95).toFixed(2)}, largest ${Math.max(...off).toFixed(2)}`,
      `  a note wanders by itself (interquartile range, cents): middle ${quantile(wander, 0.5).toFixed(2)}, 95 % ${quantile(wander, 0.95).toFixed(2)}`,
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
