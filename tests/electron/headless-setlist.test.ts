import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { within } from "./within.ts";

const BAND = path.join(import.meta.dirname, "..", "..", "assets", "tunes", "village-band.abc");
const OWNED = "standard D, standard G, standard A";
let folder = "";
const inFolder = (name: string) => path.join(folder, name);

const LIST = {
  name: "Autumn dance",
  sets: [
    {
      name: "Jigs",
      pauseSeconds: 4,
      breakSeconds: 120,
      tunes: [
        { title: "the lamp over the hall door", times: 3, bpm: 120, harp: "standard D" },
        { title: "The Caretaker's Bunch of Keys", times: 2, bpm: 120, harp: "standard G" },
        { title: "The Lamp over the Hall Door", times: 1, bpm: 120, harp: "standard D" },
      ],
    },
    { tunes: [{ title: "The Kettle Behind the Stage", times: 1, bpm: 120 }] },
  ],
};

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "reedpath-setlist-"));
  const files: Readonly<Record<string, unknown>> = {
    "autumn.json": LIST,
    "no-sets.json": { name: "Autumn dance" },
    "no-title.json": { sets: [{ tunes: [{ times: 2 }] }] },
    "unknown.json": { sets: [{ tunes: [{ title: "The Lamp over the Barn Door" }] }] },
    "too-often.json": { sets: [{ tunes: [{ title: "The Kettle Behind the Stage", times: 99 }] }] },
    "half-times.json": { sets: [{ tunes: [{ title: "The Kettle Behind the Stage", times: 1.5 }] }] },
    "no-harp.json": { sets: [{ tunes: [{ title: "The Kettle Behind the Stage", harp: "standard H" }] }] },
  };
  for (const [name, value] of Object.entries(files)) writeFileSync(inFolder(name), JSON.stringify(value));
  writeFileSync(inFolder("cut.json"), '{"sets": [');
});
afterAll(() => rmSync(folder, { recursive: true }));

const ran = (...args: readonly string[]) => within("setlist", ...args);

describe("the setlist command", () => {
  test("says how long each tune, set and the dance lasts, and where another harp is taken", async () => {
    const { status, stdout, stderr } = await ran(BAND, "--list", inFolder("autumn.json"), "--owned", OWNED);
    expect(stderr).toBe("");
    expect(status).toBe(0);
    const printed = JSON.parse(stdout);
    expect(printed).toMatchObject({ schema: "reedpath.setlist", version: 1, name: "Autumn dance" });
    // [calc] jigs of 32 bars with 2 beats at 120 last 32 s once through; 3, 2 and 1 times; two pauses of 4 s.
    expect(printed.sets[0].tunes.map(({ seconds }: { seconds: number }) => seconds)).toEqual([96, 64, 32]);
    expect(printed.sets[0].seconds).toBe(200);
    // [calc] a polka of 32 bars with 2 crotchets at 120: 32 s; one break of 120 s between the sets.
    expect(printed.sets[1].seconds).toBe(32);
    expect([printed.playedSeconds, printed.seconds]).toEqual([232, 352]);
    expect(printed.sets[0].changes).toEqual([
      { afterTune: 1, from: "D harp", to: "G harp", seconds: 4 },
      { afterTune: 2, from: "G harp", to: "D harp", seconds: 4 },
    ]);
    expect(printed.harpChanges).toBe(2);
    // [calc] both D tunes first, then the G one: one change is the least with two harps.
    expect(printed.sets[0].fewestChanges.changes).toBe(1);
    expect(printed.sets[1].fewestChanges).toBeNull();
  });

  test("without a list all tunes of the files are one set", async () => {
    const { stdout } = await ran(BAND, "--times", "1", "--keys", "D,G", "--number", "5");
    const [set, ...more] = JSON.parse(stdout).sets;
    expect(more).toEqual([]);
    expect(set.tunes).toHaveLength(1);
    // [calc] 32 bars * 2 crotchets at the usual 132 of a polka: 29.091 s.
    expect(set.tunes[0]).toMatchObject({ times: 1, bars: 32, seconds: 29.091 });
  });

  test("prints a table, or a text to read", async () => {
    const list = ["--list", inFolder("autumn.json"), "--owned", OWNED];
    const { stdout: table } = await ran(BAND, ...list, "--as", "csv");
    expect(table.split("\r\n")[0]).toMatch(/^set,tune,title,times_through,tempo,harp,position/);
    expect(table.trimEnd().split("\r\n")).toHaveLength(1 + 4);
    const { stdout: text } = await ran(BAND, ...list, "--as", "text");
    // [calc] 352 s are 5:52, 232 s 3:52.
    expect(text).toContain("Autumn dance\n5:52 with breaks, 3:52 played, 2 harp changes\n");
    expect(text).toContain("take the G harp: 4 s between");
  });

  test.each([
    [["no-such.abc"], /no-such\.abc: there is no such file\n$/],
    [[BAND, "--times", "0"], /--times must be a whole number from 1 to 20, not "0"\n$/],
    [[BAND, "--owned", "standard D", "--keys", "G"], /--owned and --keys both say which harps/],
    [[BAND, "--as", "html"], /--as must be one of json, csv, text, not "html"/],
  ])("%j is refused in one line", async (args, line) => {
    const { status, stderr } = await ran(...args);
    expect(status).toBe(2);
    expect(stderr).toMatch(line);
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
  });

  test.each([
    ["cut.json", /cut\.json: not JSON: /],
    ["no-sets.json", /no-sets\.json: expected \{"name": …, "sets": \[…\]\}/],
    ["no-title.json", /no-title\.json: set 1, tune 1: expected \{"title": …\}, not \{"times":2\}/],
    ["unknown.json", /set 1, tune 1: no file has a tune called "The Lamp over the Barn Door"/],
    ["too-often.json", /set 1, tune 1: times must be a number from 1 to 20, not 99/],
    ["half-times.json", /set 1, tune 1: times must be a whole number, not 1\.5/],
    ["no-harp.json", /set 1, tune 1: "standard H" is no harp/],
  ])("a list file with a fault, %s, is refused in one line that names the place", async (name, line) => {
    const { status, stdout, stderr } = await ran(BAND, "--list", inFolder(name), "--owned", OWNED);
    expect(status).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toMatch(line);
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
  });

  test("times and pauses are said in the list or beside it, not both", async () => {
    const { stderr } = await ran(BAND, "--list", inFolder("autumn.json"), "--times", "2");
    expect(stderr).toContain("--times does not go with --list");
  });
});
