import { PitchDetector } from "pitchy";
import { readSound } from "../corpus/wav-file.ts";
import type { Answer } from "./answer.ts";
import { levelAt, notesFromFrames } from "./segmenter.ts";

const WINDOW = 2048;
const HOP_SECONDS = 0.005;
const LEAST_CLARITY = 0.8;
/** Below this level nothing sounds: the same for every peer without a voicing of its own. */
export const GATE_DBFS = -55;

/** The npm package `pitchy` 4.1.0 (McLeod's pitch method) on windows of 2048 samples, every 5 ms. */
export function pitchyAnswer(wav: string): Answer {
  const sound = readSound(wav);
  const { samples, sampleRateHz } = sound;
  const detector = PitchDetector.forFloat32Array(WINDOW);
  const hop = Math.round(HOP_SECONDS * sampleRateHz);
  const frames: { t: number; f0: number }[] = [];
  for (let i = 0; i + WINDOW <= samples.length; i += hop) {
    const t = (i + WINDOW / 2) / sampleRateHz;
    const [hz, clarity] = detector.findPitch(samples.subarray(i, i + WINDOW), sampleRateHz);
    const voiced = clarity >= LEAST_CLARITY && levelAt(sound, t, 0.02) > GATE_DBFS;
    frames.push({ t, f0: hz > 0 ? (voiced ? hz : -hz) : 0 });
  }
  const latencyMs = (1000 * (WINDOW / 2 + hop)) / sampleRateHz;
  return { latencyMs, frames, notes: notesFromFrames(frames, sound) };
}
