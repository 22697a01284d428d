import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import path from "node:path";

const SCRIPT = `form Args
  sentence file
endform
Read from file: file$
To Pitch (ac): 0.005, 110, 15, "no", 0.03, 0.45, 0.01, 0.35, 0.14, 3400
n = Get number of frames
for i to n
  t = Get time from frame number: i
  f = Get value in frame: i, "Hertz"
  appendInfoLine: fixed$ (t, 6), " ", fixed$ (f, 6)
endfor
`;

/** An hour of frames. */
const MOST_CHARACTERS = 32 * 1024 * 1024;

export interface PraatFrame {
  readonly atSeconds: number;
  readonly hz: number;
}

/**
 * Pitch of a WAV file by Praat's autocorrelation method, every 5 ms; frames without a pitch are left out.
 *
 * @param file absolute path; the script is written beside it
 */
export function praatPitch(file: string): PraatFrame[] {
  const script = path.join(path.dirname(file), "pitch.praat");
  writeFileSync(script, SCRIPT);
  const out = execFileSync("praat", ["--run", script, file], {
    encoding: "utf8",
    maxBuffer: MOST_CHARACTERS,
    env: { ...process.env, LC_ALL: "C" },
  });
  return out
    .trim()
    .split("\n")
    .map((line) => line.split(" ").map(Number.parseFloat))
    .map(([atSeconds, hz]) => ({ atSeconds: atSeconds ?? Number.NaN, hz: hz ?? Number.NaN }))
    .filter(({ hz }) => hz > 0);
}

/** Median pitch between two moments, Hz; NaN where Praat found none. */
export function medianHz(frames: readonly PraatFrame[], fromSeconds: number, toSeconds: number): number {
  const within = frames
    .filter(({ atSeconds }) => atSeconds >= fromSeconds && atSeconds <= toSeconds)
    .map(({ hz }) => hz)
    .sort((a, b) => a - b);
  return within[within.length >> 1] ?? Number.NaN;
}
