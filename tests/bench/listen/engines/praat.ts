import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { readSound } from "../corpus/wav-file.ts";
import type { Answer } from "./answer.ts";
import { programOutput } from "./program.ts";
import { notesFromFrames } from "./segmenter.ts";

const FLOOR_HZ = 110;
const SCRIPT = `form Args
  sentence file
endform
Read from file: file$
To Pitch (ac): 0.005, ${FLOOR_HZ}, 15, "no", 0.03, 0.45, 0.01, 0.35, 0.14, 2500
n = Get number of frames
for i to n
  t = Get time from frame number: i
  f = Get value in frame: i, "Hertz"
  appendInfoLine: fixed$ (t, 6), " ", fixed$ (f, 6)
endfor
`;

/** Praat's autocorrelation (Boersma 1993) over the whole take, every 5 ms, with its own path through the candidates. */
export async function praatAnswer(wav: string): Promise<Answer> {
  const folder = mkdtempSync(path.join(tmpdir(), "listen-bench-"));
  const script = path.join(folder, "pitch.praat");
  writeFileSync(script, SCRIPT);
  try {
    const output = await programOutput("praat", ["--run", script, wav], { ...process.env, LC_ALL: "C" });
    const frames = output
      .trim()
      .split("\n")
      .map((line) => {
        const [t = "", hz = ""] = line.split(" ");
        return { t: Number(t), f0: hz.startsWith("--") ? 0 : Number(hz) };
      });
    // Praat's window is three periods of the floor.
    const latencyMs = 1000 * (3 / FLOOR_HZ / 2 + 0.005);
    return { latencyMs, frames, notes: notesFromFrames(frames, readSound(wav)) };
  } finally {
    rmSync(folder, { recursive: true });
  }
}
