import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readLayout } from "../../core/instrument/layout-json.ts";
import { within } from "./within.ts";

const BAND = path.join(import.meta.dirname, "..", "..", "assets", "tunes", "village-band.abc");
let folder = "";

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "reedpath-design-"));
  const files = {
    "weights.json": '{"Chairs Against the Wall": 3}',
    "wrong-title.json": '{"No Such Tune": 3}',
    "wrong-weight.json": '{"Chairs Against the Wall": 0}',
    "no-object.json": "[1]",
  };
  for (const [name, content] of Object.entries(files)) writeFileSync(path.join(folder, name), content);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function design(...args: string[]) {
  const asked = args.map((arg) => arg.replace("@/", `${folder}/`));
  const { status, stdout, stderr } = await within("design", ...asked);
  return { status, stderr, json: stdout === "" ? null : JSON.parse(stdout) };
}

describe("design", () => {
  test("a C harp that plays G major from D4 to B6 has seven reeds changed, which are told and kept as a layout", async () => {
    const { status, json } = await design("--scales", "G major D4-B6", "--out", "@/found.json");
    expect(status).toBe(0);
    expect(json.kind).toBe("found");
    const [point] = json.line;
    // [P] seven changed reeds; [calc] the assignment gives them 11 semitones in all.
    expect(point).toMatchObject({ changed: 7, semitonesMoved: 11, proved: true });
    const [first] = point.layouts;
    // [calc] no reed but 10 blow and 10 draw reaches B6 within two semitones, and 10 draw is wanted as A6.
    expect(first.changes).toContainEqual({ reed: "10", from: "C7", to: "B6", semitones: -1 });
    expect(first.gainedAndLost.triads.gained).toEqual(expect.arrayContaining(["ii", "V"]));
    // [calc] the whole-tone raise of 3 blow takes 3 draw's bends to A4 and Ab4 away: only Bb4 is left between A4 and B4.
    expect(first.gainedAndLost.bends.lost).toContainEqual({ tab: "-3''", note: "A4" });
    const kept = readLayout(readFileSync(path.join(folder, "found.json"), "utf8"));
    expect(kept.kind).toBe("layout");
    expect(first.layout.name).toBe("standard, 7 reeds changed");
    // [calc] of the catalogue none has F#4 plain, so all lack something.
    expect(json.catalogue.find((one: { layout: string }) => one.layout === "solo-10").missing).toContain(
      "F#4",
    );
  });

  test("what is found can be held against any layout of the catalogue", async () => {
    const { json } = await design("--scales", "G major D4-B6", "--beside", "raised-third-blow");
    const [first] = json.line[0].layouts;
    expect(first.beside).toBe("raised-third-blow");
    // [calc] that layout has A4 on 3 blow already, and no F#4.
    expect(first.gainedAndLost.plainNotes.gained).not.toContain("A4");
    expect(first.gainedAndLost.plainNotes.gained).toContain("F#4");
  });

  test("positions count from the harp's key: 2 on a C harp is G", async () => {
    const { json } = await design("--scales", "2 major D4-B6", "--chords", "ignore");
    expect(json.wish.scales).toEqual([{ name: "G major", from: "D4", to: "B6" }]);
    expect(json.line[0].changed).toBe(7);
  });

  test("an impossible wish is told with what makes it possible, as JSON and in one line", async () => {
    const { status, json, stderr } = await design("--scales", "G major D4-B6", "--most-semitones", "1");
    expect(status).toBe(2);
    expect(stderr).toBe(
      "reedpath: no layout keeps all limits: let reeds move 2 semitones; no layout keeps every reed within 1\n",
    );
    expect(json.kind).toBe("impossible");
    expect(json.loosen[0].limits).toEqual(["semitones"]);
  });

  test("tunes give a line that begins with the start, and the share four keys play", async () => {
    const args = [BAND, "--most-changed", "2", "--tries", "3000", "--tune-weights", "@/weights.json"];
    const { status, json } = await design(...args);
    expect(status).toBe(0);
    expect(json.line[0]).toMatchObject({ changed: 0, tunes: json.startTunes });
    for (const { changed, keys } of json.line) {
      expect(changed).toBeLessThanOrEqual(2);
      expect(keys.keys.length).toBeLessThanOrEqual(4);
      expect(keys.share).toBeCloseTo(keys.tunes / keys.of, 4);
    }
    expect((await design(...args)).json).toEqual(json);
  });

  test.each([
    [
      ["--scales", "G major"],
      /22 notes are more than the harp's 20 reeds: ask for D4 to B6 only, 2 notes fewer/,
    ],
    [[], /say what is to be playable/],
    [["--scales", "H major"], /--scales "H major": "H" is neither a home note/],
    [["--scales", "G marjor D4-B6"], /--scales "G marjor D4-B6": the mode "marjor" is not known/],
    [["--scales", "G major Z4-B6"], /--scales "G major Z4-B6": Z4-B6 is no range of notes, such as D4-B6/],
    [["--scales", "G major B6-D4"], /the first note lies above the last/],
    [
      ["--scales", "G major", "--most-semitones", "13"],
      /--most-semitones must be a whole number from 0 to 12/,
    ],
    [["--scales", "G major", "--stay", "x"], /--stay: "x" is no reed in tab/],
    [["--scales", "G major", "--stay", "-11"], /there is no reed 11 draw to limit/],
    [["--scales", "G major", "--reeds", "-5:2"], /--reeds: "-5:2" is no limit of a reed/],
    [["--scales", "G major", "--order", "upwards"], /--order: "upwards" is none/],
    [["--scales", "G major", "--order", "free free"], /is said for 2 holes, the layout has 10/],
    [["--scales", "G major", "--keep-chords", "4 blow"], /--keep-chords: "4 blow" is no chord/],
    [
      ["--scales", "G major", "--keep-chords", "9-10-11 draw"],
      /no chord 9-10-11 draw to keep: no reed in 11/,
    ],
    [["--scales", "G major", "--keep-bends", "-5'"], /5 draw does not bend by 1 to begin with/],
    [["--scales", "G major", "--keep-bends", "5"], /--keep-bends: "5" is no bend in tab/],
    [
      ["--scales", "G major", "--triads", "IX"],
      /there is no major or minor triad IX; there are I of G major/,
    ],
    [["--scales", "G major D4-B6", "--out", "@/no/such/found.json"], /found\.json: /],
    [[BAND, "--tune-weights", "@/wrong-title.json"], /wrong-title\.json: there is no tune "No Such Tune"/],
    [
      [BAND, "--tune-weights", "@/wrong-weight.json"],
      /wrong-weight\.json: the weight of "Chairs Against the Wall"/,
    ],
    [[BAND, "--tune-weights", "@/no-object.json"], /no-object\.json: must be an object/],
  ] as const)("%j is refused in one line", async (args, message) => {
    const { status, stderr } = await design(...args);
    expect(status).toBe(2);
    expect(stderr).toMatch(message);
    expect(stderr.trim().split("\n")).toHaveLength(1);
  });
});
