import { readSound } from "../corpus/wav-file.ts";
import type { Answer } from "./answer.ts";
import { GATE_DBFS } from "./pitchy.ts";
import { programOutput } from "./program.ts";
import { levelAt, notesFromFrames } from "./segmenter.ts";

const WINDOW = 2048;
const HOP = 240;

/** Debian's `aubiopitch` (package aubio-tools) on windows of 2048 samples, every 240. */
export async function aubioAnswer(method: "yinfast" | "yinfft", wav: string): Promise<Answer> {
  const sound = readSound(wav);
  const cut = ["-B", String(WINDOW), "-H", String(HOP)];
  const output = await programOutput("aubiopitch", ["-i", wav, "-r", "0", "-p", method, ...cut, "-s", "-90"]);
  // yin and yinfast sum over the first half of the window only, so their middle lies a quarter earlier.
  const middle = HOP - WINDOW * (method === "yinfft" ? 0.5 : 0.75);
  const frames: { t: number; f0: number }[] = [];
  for (const line of output.split("\n")) {
    const numbers = line.trim().split(/\s+/).map(Number);
    const [end, hz] = numbers;
    if (numbers.length !== 2 || end === undefined || hz === undefined) continue;
    const t = end + middle / sound.sampleRateHz;
    if (t < 0) continue;
    const voiced = levelAt(sound, t, 0.02) > GATE_DBFS;
    frames.push({ t, f0: hz > 0 ? (voiced ? hz : -hz) : 0 });
  }
  const latencyMs = (1000 * (WINDOW / 2 + HOP)) / sound.sampleRateHz;
  return { latencyMs, frames, notes: notesFromFrames(frames, sound) };
}
