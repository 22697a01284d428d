import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readLayout, writeLayout } from "../../core/instrument/layout-json.ts";
import { STANDARD_LAYOUT, STOCK_LAYOUTS } from "../../core/instrument/stock-layouts.ts";
import { LAYOUT_TABLES } from "../sources/layout-tables.ts";
import { POSITION_TABLE } from "../sources/positions-table.ts";
import { reedpathIn } from "./run-program.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "reedpath-instrument-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const reedpath = reedpathIn(() => folder);

async function textOf(...args: readonly string[]): Promise<string> {
  const { status, stdout, stderr } = await reedpath(...args);
  expect(stderr).toBe("");
  expect(status).toBe(0);
  return stdout;
}

const jsonOf = async (...args: readonly string[]) => JSON.parse(await textOf(...args));

interface Mode {
  readonly mode: string;
  readonly plainOctaves: number;
  readonly longestPlainRun: { readonly low: string; readonly high: string; readonly notes: number } | null;
  readonly octaves?: readonly (readonly { readonly degree: string; readonly means: string }[])[];
}
interface Position {
  readonly position: number;
  readonly home: string;
  readonly naturalMode: string | null;
  readonly notPlain: readonly string[];
  readonly homeReeds: readonly { readonly tab: string }[];
  readonly modes: readonly Mode[];
}

describe("layouts", () => {
  test("prints every layout of the printed tables, with its notes on C", async () => {
    const { schema, version, layouts } = await jsonOf("layouts");
    expect([schema, version]).toEqual(["reedpath.layouts", 1]);
    expect(layouts.map((one: { id: string }) => one.id)).toEqual(LAYOUT_TABLES.map((table) => table.id));
    expect(layouts[0].onC.blow.join(" ")).toBe(LAYOUT_TABLES[0]?.blow);
    expect(layouts[0].differentPitches).toBe(19); // encyclopedia article "Richter-tuned harmonica" [F 2]
  });

  test("prints one as a file that is read back, and takes such a file for a layout", async () => {
    const text = await textOf("layouts", "--layout", "country");
    const read = readLayout(text);
    expect(read.kind === "layout" && read.layout).toEqual(STOCK_LAYOUTS[1]);
    writeFileSync(path.join(folder, "mine.json"), text.replace('"country"', '"mine"'));
    const positions = await jsonOf("positions", "--layout", "mine.json", "--key", "D");
    expect(positions.harp).toMatchObject({ layout: "mine", key: "D", keyNote: 62 });
    expect(positions.warnings).toEqual([
      "octaves differ: 5 draw is #4 of the key, but 9 draw is 4 of the key",
    ]);
  });
});

describe("positions", () => {
  test("prints the twelve rows of the printed table for a standard C harp", async () => {
    const printed = await jsonOf("positions", "--layout", "standard", "--key", "C");
    const positions: readonly Position[] = printed.positions;
    expect(positions).toHaveLength(12);
    expect(printed.countedFrom).toBe("C");
    for (const [index, row] of POSITION_TABLE.entries()) {
      const own = positions[index];
      expect([own?.position, own?.home, own?.naturalMode]).toEqual([row.position, row.home, row.mode]);
      for (const reed of row.homeReeds) expect(own?.homeReeds.map((one) => one.tab)).toContain(reed);
      expect(own?.notPlain.map((text) => text.replace(/ \(.*/, ""))).toEqual(row.missing);
      expect(own?.modes).toHaveLength(11);
    }
  });

  test.each(["raised third blow with raised fourths", "raised-third-blow-with-raised-fourths"])(
    "shows a complete plain major scale in second position for %s",
    async (layout) => {
      const printed = await jsonOf("positions", "--layout", layout, "--key", "C", "--mode", "major");
      const second: Position = printed.positions[1];
      expect([second.home, second.naturalMode]).toEqual(["G", "major"]);
      // Fact sheet, section 1 [F 1]: from 2 draw; [calc] G4 to A6, sixteen notes, two whole octaves.
      expect(second.modes[0]?.plainOctaves).toBe(2);
      expect(second.modes[0]?.longestPlainRun).toEqual({ low: "G4", high: "A6", notes: 16 });
      for (const octave of second.modes[0]?.octaves?.slice(1, 3) ?? []) {
        expect(octave.map((one) => one.degree)).toEqual(["1", "2", "3", "4", "5", "6", "7"]);
        expect(octave.every((one) => one.means === "plain")).toBe(true);
      }
    },
  );

  test("takes any degrees, one position, a register, a tuning and what the player can do", async () => {
    writeFileSync(path.join(folder, "just.scl"), "own\n 2\n3/2\n2/1\n");
    const printed = await jsonOf(
      ...["positions", "--key", "D", "--register", "low", "--temperament", "just.scl", "--a4", "443"],
      ...["--mode", "1 b3 4 5", "--position", "3", "--bends", "no", "--overbends", "4 6"],
    );
    expect(printed.harp).toMatchObject({ keyNote: 50, a4: 443, temperament: { kind: "scale", name: "own" } });
    expect(printed.positions).toHaveLength(1);
    const [third] = printed.positions;
    expect([third.home, third.modes[0].mode]).toEqual(["E", "1 b3 4 5"]); // third is a tone above the key [F 22]
    expect(third.modes[0].bend).toEqual([]);
  });
});

describe("chords", () => {
  test("tells which triads a standard harp has in second position, and where", async () => {
    const printed = await jsonOf("chords", "--layout", "standard", "--key", "C", "--home", "G");
    expect(printed).toMatchObject({ schema: "reedpath.chords", home: "G", mode: "mixolydian", position: 2 });
    const one = printed.triads[0];
    expect(one).toMatchObject({ numeral: "I", notes: ["G", "B", "D"], has: "complete" });
    expect(one.complete).toEqual([{ breath: "draw", holes: [1, 2, 3, 4], lacks: [] }]);
    expect(printed.neighbours).toHaveLength(48); // [calc] 9 + 8 + 7 a breath
    expect(printed.splitOctaves).toHaveLength(12); // [calc] seven blow, five draw
  });

  test("a flat key's notes are told with flats", async () => {
    const printed = await jsonOf("chords", "--key", "bb");
    expect(printed.harp).toMatchObject({ key: "Bb", lowest: "Bb3", highest: "Bb6" }); // [calc] MIDI 58 and three octaves
    expect(printed.triads[0]).toMatchObject({ numeral: "I", notes: ["Bb", "D", "F"], has: "complete" });
  });

  test("beats follow the tuning", async () => {
    const third = async (...options: readonly string[]) => {
      const printed = await jsonOf("chords", ...options);
      return printed.neighbours[0].intervals[0].beatsPerSecond;
    };
    expect(await third()).toBe(10.38); // [calc] |5 x 261.626 - 4 x 329.628|
    expect(await third("--temperament", "just-first-position")).toBe(0);
  });
});

describe("bad input", () => {
  beforeAll(() => {
    const file = JSON.parse(writeLayout({ ...STANDARD_LAYOUT, id: "mine", name: "mine" }));
    file.holes[2].draw = "B4";
    writeFileSync(path.join(folder, "broken.json"), JSON.stringify(file));
    writeFileSync(path.join(folder, "words.json"), "not a layout");
    writeFileSync(path.join(folder, "short.scl"), "x\n3\n9/8\n2/1\n");
  });

  test.each([
    [["layouts", "--layout", "moon"], /--layout "moon" is not known; there is standard, /],
    [["layouts", "extra"], /got extra/],
    [["positions", "--layout", "broken.json"], /broken\.json: hole 3, draw: .*not "B4"/],
    [["positions", "--layout", "words.json"], /words\.json: not JSON/],
    [["positions", "--layout", "nowhere.json"], /nowhere\.json: there is no such file/],
    [["positions", "--key", "H"], /--key "H" is not a key/],
    [["positions", "--key", "A", "--register", "low"], /--register low: there is no low A/],
    [["positions", "--mode", "sour"], /--mode "sour" is not known; there are major, /],
    [["positions", "--position", "13"], /--position must be a whole number from 1 to 12/],
    [["positions", "--bends", "some"], /--bends must be yes, no or hole numbers/],
    [["positions", "--temperament", "moon"], /--temperament "moon" is not known; there is equal, just-/],
    [["positions", "--temperament", "short.scl"], /short\.scl: says 3 notes but lists 2/],
    [["chords", "--home", "H"], /--home "H" is not a note name/],
    [["chords", "--colour", "red"], /no option --colour/],
  ])("%j is refused in one line, with exit status 2 and nothing written", async (args, reason) => {
    const before = readdirSync(folder).sort();
    const { status, stdout, stderr } = await reedpath(...args);
    expect(status).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toMatch(reason);
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
    expect(stderr).not.toMatch(/did not expect/);
    expect(readdirSync(folder).sort()).toEqual(before);
  });
});
