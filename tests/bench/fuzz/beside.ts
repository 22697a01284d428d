import { mkdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { writeWav } from "../../../core/listen/wav.ts";
import { exerciseOf } from "../../support/drills.ts";

/** Files that commands need beside the one they are tried with. @returns their names */
export function makeBeside(folder: string): readonly string[] {
  mkdirSync(folder, { recursive: true });
  const files: Readonly<Record<string, string | Uint8Array>> = {
    "exercise.json": JSON.stringify(exerciseOf()),
    "take.wav": writeWav(new Float32Array(24_000), 48_000, "pcm16"),
    "tune.abc": "X:1\nT:Chairs Against the Wall\nM:4/4\nL:1/8\nK:G\nGABG AGEG|D2G2 G4|]\n",
  };
  for (const [name, content] of Object.entries(files)) writeFileSync(path.join(folder, name), content);
  return Object.keys(files);
}
