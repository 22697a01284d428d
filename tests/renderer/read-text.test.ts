import { describe, expect, test } from "vitest";
import { readText } from "../../renderer/tunes/read-text.ts";

const TWO = "X:1\nT:Two Fiddles in the Hall\nM:2/4\nL:1/8\nK:G\nV:high\nGB dB|\nV:low\nG2 D2|\n";
const remarks = (text: string, voice: string | null) =>
  readText(text, voice).tunes[0]?.tune.remarks.map(({ words }) => words);

describe("a tune opened in the voice that was chosen for it", () => {
  test("is read in that voice", () => {
    const [read] = readText(TWO, "low").tunes;
    expect(read?.tune.notes.map(({ name }) => name)).toEqual(["G4", "D4"]);
    expect(read?.voices).toEqual(["high", "low"]);
  });

  test("is read in its first where it no longer has that voice, and says so", () => {
    const [read] = readText(TWO, "middle").tunes;
    expect(read?.tune.notes.map(({ name }) => name)).toEqual(["G4", "B4", "D5", "B4"]);
    expect(remarks(TWO, "middle")).toEqual([
      'no voice is called "middle"; there are "high", "low": the first is read',
      "of the voices high, low only high is read",
    ]);
    expect(remarks(TWO, null)).toEqual(["of the voices high, low only high is read"]);
  });
});
