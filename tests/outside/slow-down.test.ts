import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { slowDown } from "../../core/listen/slow-down.ts";
import { writeWav } from "../../core/listen/wav.ts";
import { take } from "../core/listen/signals.ts";
import { medianHz, praatPitch } from "./praat.ts";
import { hasTool } from "./tools.ts";

const RATE = 48_000;

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "slow-down-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const praat = hasTool("praat");
describe.skipIf(!praat)(`half speed as Praat hears it${praat ? "" : " (praat is not installed)"}`, () => {
  // [X] Praat 6.3, To Pitch (ac). 1 cent: half of what the best ears notice.
  it.each([130.8, 233.7, 587.9, 1318.2, 3136])(
    "a reed of %d Hz, heard twice as long, keeps its pitch",
    (hz) => {
      const played = take(RATE, 1.6, [{ onSeconds: 0.3, offSeconds: 1.3, hz, dbfs: -20 }]);
      const file = path.join(folder, `${hz}.wav`);
      writeFileSync(file, writeWav(slowDown(played, RATE, 0.5), RATE, "float32"));
      const frames = praatPitch(file);
      expect(Math.abs(1200 * Math.log2(medianHz(frames, 0.8, 2.4) / hz))).toBeLessThan(1);
      const sounding = frames.filter(({ hz: heard }) => Math.abs(1200 * Math.log2(heard / hz)) < 50);
      // [calc] 2 x 1 s in frames of 5 ms; the ends of a note are soft.
      expect(Math.abs(sounding.length * 0.005 - 2)).toBeLessThan(0.1);
    },
  );
});
