import { describe, expect, test } from "vitest";
import { backingOfTune } from "../../../core/exercise/backing-of-tune.ts";
import { makeDrill } from "../../../core/exercise/make-drill.ts";
import { KEYS_BY_REGISTER } from "../../../core/instrument/harp.ts";
import { readAbc } from "../../../core/tune/abc/read-abc.ts";
import { bpm } from "../../../core/units.ts";
import { harp } from "../../support/harps.ts";
import { SHIPPED_FILES, shippedText } from "../../support/shipped-tunes.ts";
import { specOf } from "./make.ts";

function backing(head: string, music: string) {
  const read = readAbc(`X:1\nT:Four Chords\n${head}\nK:G\n${music}\n`);
  const [tune] = read.kind === "tunes" ? read.tunes : [];
  if (tune === undefined) throw new Error("it is a tune");
  return backingOfTune(tune);
}

describe("the backing of a tune", () => {
  // [calc] beats counted by hand from the notation; 6/8 is felt in dotted crotchets, a reel's 2/2 in minims.
  test.each([
    ["M:6/8\nL:1/8", '"G"G3 B3|"C"c3 e3|"D7"d3 f3|"G"g6|', "G:2 C:2 D7:2 G:2", "3/8", 2, "long-short"],
    ["R:reel\nM:2/2\nL:1/8", '"G"GABc "D"defg|"G"g8|', "G:1 D:1 G:2", "1/2", 2, "halves"],
    ["R:waltz\nM:3/4\nL:1/4", 'D|"G"GBd|g2z|"D"fed|"G"G2|', "G:6 D:3 G:2", "1/4", 3, "beats"],
    ["M:4/4\nL:1/4", '|:"G"GABc|"D7"d4:|"C"c4|', "G:4 D7:4 C:4", "1/4", 4, "beats"],
    ["M:4/4\nL:1/4", '"G"GA"N.C."Bc|"^slowly"d4|', "G:8", "1/4", 4, "beats"],
    ["M:4/4\nL:1/4", 'GA"D"Bc|"G"d4|', "D:4 G:4", "1/4", 4, "beats"],
  ])("%s %s is %s", (head, music, chords, noteValue, beatsPerBar, strokes) => {
    expect(backing(head, music)).toMatchObject({
      kind: "backing",
      chords,
      tempo: { noteValue },
      beatsPerBar,
      strokes,
    });
  });

  test("is none where no chord symbol stands", () => {
    expect(backing("M:4/4\nL:1/4", "GABc|d4|")).toEqual({
      kind: "none",
      reason: "Four Chords has no chord symbols",
    });
  });

  test("lasts as long as the written bars of every tune that comes along, and some harp has chords of it", () => {
    let count = 0;
    for (const file of SHIPPED_FILES) {
      const read = readAbc(shippedText(file));
      if (read.kind !== "tunes") throw new Error("the file is read");
      for (const tune of read.tunes) {
        const made = backingOfTune(tune);
        if (made.kind === "none") continue;
        count++;
        const beats = made.chords.split(" ").reduce((sum, entry) => sum + Number(entry.split(":")[1]), 0);
        const bars = tune.bars.filter(({ pass, kind }) => pass === 0 && kind !== "pick-up").length;
        // A bar more or less: strains end short by their upbeat.
        expect(Math.abs(beats - bars * made.beatsPerBar)).toBeLessThanOrEqual(made.beatsPerBar);
        const drills = KEYS_BY_REGISTER.map((key) =>
          makeDrill(
            specOf("backing", {
              harp: harp(key),
              chords: made.chords,
              beatsPerBar: made.beatsPerBar,
              tempo: { ...made.tempo, bpm: bpm(90) },
              strokes: "beats",
              mostHoles: 3,
              partial: true,
              repeats: 1,
            }),
          ),
        );
        expect(drills.some(({ kind }) => kind === "exercise")).toBe(true);
      }
    }
    expect(count).toBeGreaterThan(30);
  });
});
