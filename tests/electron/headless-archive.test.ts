import { randomBytes } from "node:crypto";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { ArchiveRecord } from "../../core/archive/archive-format.ts";
import type { HistoryEntry } from "../../renderer/store/history-entry.ts";
import { archiveText, entryValue, everyKind } from "../support/archives.ts";
import { readTable } from "../support/read-csv.ts";
import { thirtyDays } from "../support/thirty-days.ts";
import { within as reedpath } from "./within.ts";

let folder = "";
const at = (name: string) => path.join(folder, name);
const whole = archiveText(everyKind());
const header = `${archiveText([]).split("\n")[0]}\n`;

beforeAll(() => {
  folder = mkdtempSync(path.join(os.tmpdir(), "reedpath-archives-"));
  const packed = gzipSync(whole);
  const files: Readonly<Record<string, string | Uint8Array>> = {
    "whole.gz": packed,
    "cut.gz": packed.subarray(0, packed.length - 9),
    "half.gz": packed.subarray(0, packed.length / 2),
    "flipped.gz": packed.map((byte, n) => (n === packed.length - 6 ? byte ^ 1 : byte)),
    "words.gz": "no archive",
    "nothing.gz": "",
    "other.gz": gzipSync("X:1\nT:a tune\n"),
    "latin.gz": gzipSync(Buffer.from(whole.replace("the band's", "la fl\u00fbte"), "latin1")),
    "newer.gz": gzipSync(whole.replace('"version":2', '"version":3')),
    "trap.gz": gzipSync(header + "1".repeat(100_000_000), { level: 9 }),
    // [calc] two letters a byte: 68 million characters, where a line may have 67,108,864.
    "one line.gz": gzipSync(header + randomBytes(34_000_000).toString("hex"), { level: 1 }),
    "thirty days.gz": gzipSync(archiveText(thirtyDays(5).map(recordOf).sort(byId))),
    "made up.gz": gzipSync(archiveText([attempt("a", { demo: true })])),
    "faulty.gz": gzipSync(archiveText([attempt("a"), attempt("b", { zone: 7 }), attempt("c")])),
  };
  for (const [name, content] of Object.entries(files)) writeFileSync(at(name), content);
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const attempt = (id: string, changes: Readonly<Record<string, unknown>> = {}): ArchiveRecord => ({
  kind: "attempt",
  id,
  value: entryValue(changes),
});

const recordOf = ({ id, take: _, ...value }: HistoryEntry): ArchiveRecord => ({ kind: "attempt", id, value });
const byId = (one: ArchiveRecord, other: ArchiveRecord) => (one.id < other.id ? -1 : 1);

describe("archive", () => {
  test("says what a file holds", async () => {
    const { status, stdout, stderr } = await reedpath("archive", at("whole.gz"));
    expect([status, stderr]).toEqual([0, ""]);
    // As made; days as in tests/core/archive.
    expect(JSON.parse(stdout)).toEqual({
      schema: "reedpath.archive-summary",
      version: 1,
      attempts: 2,
      starred: 1,
      madeUp: 0,
      takes: 1,
      days: { first: "2026-09-21", last: "2026-09-22" },
      tunes: 1,
      studies: 1,
      layouts: 1,
      harps: 1,
      setLists: 1,
      wishes: 1,
      settings: true,
      unreadable: 0,
      faults: [],
    });
  });

  test.each([
    ["cut.gz", /damaged or cut off/],
    ["half.gz", /damaged or cut off/],
    ["flipped.gz", /damaged or cut off/],
    ["words.gz", /does not begin as gzip does/],
    ["nothing.gz", /does not begin as gzip does/],
    ["other.gz", /: not an archive of this program$/],
    ["latin.gz", /damaged or cut off/],
    ["newer.gz", /written by a newer version of this program \(archive version 3, this one reads 2\)$/],
    ["trap.gz", /unpacks to more than 250 times its size/],
    ["one line.gz", /line 2 has more than [\d,]+ characters/],
    ["nowhere.gz", /there is no such file/],
    ["", /is a folder|cannot be read/],
  ])("refuses %s in one line", async (name, words) => {
    const { status, stdout, stderr } = await reedpath("archive", at(name));
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(/^reedpath: [^\n]+\n$/);
    expect(stderr.trim()).toMatch(words);
  });

  test("names the records that cannot be read", async () => {
    const { status, stdout, stderr } = await reedpath("archive", at("faulty.gz"));
    expect([status, stderr]).toEqual([1, "reedpath: 1 of its records cannot be read\n"]);
    expect(JSON.parse(stdout)).toMatchObject({
      attempts: 2,
      unreadable: 1,
      faults: [{ line: 3, reason: expect.stringMatching(/^value\.zone: /) }],
    });
  });
});

describe("history", () => {
  test("prints the attempts, as JSON or as a table", async () => {
    const json = await reedpath("history", at("whole.gz"));
    expect([json.status, json.stderr]).toEqual([0, ""]);
    const { schema, version, attempts } = JSON.parse(json.stdout);
    expect([schema, version]).toEqual(["reedpath.history", 1]);
    expect(attempts).toHaveLength(2);
    expect(attempts[0]).toMatchObject({ id: "attempt-1", day: "2026-09-21", starred: false });
    expect(attempts[0].summary).toEqual(entryValue().attempt.summary);
    expect(attempts[0].marks).toBeUndefined();
    const csv = await reedpath("history", at("whole.gz"), "--as", "csv");
    const rows = readTable(csv.stdout);
    expect(rows.map(({ attempt: id, star }) => [id, star])).toEqual([
      ["attempt-1", ""],
      ["attempt-2", "yes"],
    ]);
  });

  test("prints their notes where these are wanted", async () => {
    const json = await reedpath("history", at("whole.gz"), "--notes", "yes");
    const marks = entryValue().attempt.marks;
    expect(JSON.parse(json.stdout).attempts[1].marks).toEqual(JSON.parse(JSON.stringify(marks)));
    const csv = await reedpath("history", at("whole.gz"), "--as", "csv", "--notes", "yes");
    expect(readTable(csv.stdout)).toHaveLength(2 * (marks.length + entryValue().attempt.extras.length));
  });

  test("prints what can be read, and says that some cannot", async () => {
    const { status, stdout, stderr } = await reedpath("history", at("faulty.gz"));
    expect(status).toBe(1);
    expect(JSON.parse(stdout).attempts.map(({ id }: { readonly id: string }) => id)).toEqual(["a", "c"]);
    expect(stderr).toMatch(/^reedpath: 1 of its records cannot be read; "archive" names them/);
  });

  test("refuses what the archive command refuses", async () => {
    const { status, stderr } = await reedpath("history", at("cut.gz"));
    expect(status).toBe(2);
    expect(stderr).toMatch(/damaged or cut off/);
  });
});

interface ToldTrend {
  readonly measure: string;
  readonly everyAttempt: { readonly verdict: string; readonly sessions: number; readonly words: string };
}

describe("progress", () => {
  test("says what changed, how sure that is and what costs most", async () => {
    const { status, stdout, stderr } = await reedpath("progress", at("thirty days.gz"), "--weeks", "all");
    expect([status, stderr]).toEqual([0, ""]);
    const told = JSON.parse(stdout);
    // [calc] thirty days from 2026-09-01, the 7th, 14th, 21st and 28th at rest: 26 days with two attempts each.
    expect(told).toMatchObject({
      schema: "reedpath.progress",
      version: 1,
      attempts: 52,
      days: { practised: 26, first: "2026-09-01", last: "2026-09-30" },
    });
    const ofMeasure = (measure: string) =>
      (told.trends as readonly ToldTrend[]).find((trend) => trend.measure === measure)?.everyAttempt;
    // As made: the pitch scatters less from day to day, the timing does not change, every third bend is missed.
    expect(ofMeasure("intonation spread")).toMatchObject({ verdict: "better", sessions: 26 });
    expect(ofMeasure("timing spread")).toMatchObject({ verdict: "no clear change" });
    const weak = told.weakSpots.reeds.map(({ name }: { readonly name: string }) => name);
    expect(weak.length).toBeGreaterThan(0);
    expect(weak.every((name: string) => /'/.test(name))).toBe(true);
  });

  test("of the last weeks alone, and of what was practised alike", async () => {
    const { stdout } = await reedpath("progress", at("thirty days.gz"), "--weeks", "2", "--of", "group");
    const told = JSON.parse(stdout);
    // [calc] the last 14 days, 17th to 30th, without the 21st and the 28th.
    expect(told).toMatchObject({ attempts: 24, days: { practised: 12, first: "2026-09-17" } });
    expect(new Set(told.trends.map(({ scope }: { scope: { kind: string } }) => scope.kind))).toEqual(
      new Set(["group"]),
    );
  });

  test("leaves out what was made up, unless it is asked for", async () => {
    const attempts = async (...more: readonly string[]) =>
      JSON.parse((await reedpath("progress", at("made up.gz"), ...more)).stdout).attempts;
    expect([await attempts(), await attempts("--made-up", "yes")]).toEqual([0, 1]);
  });

  test.each([
    [["--weeks", "0"], /--weeks must be a whole number/],
    [["--of", "moons"], /--of must be one of all, position, tune, item, group/],
  ])("refuses %j", async (more, words) => {
    const { status, stderr } = await reedpath("progress", at("thirty days.gz"), ...more);
    expect(status).toBe(2);
    expect(stderr).toMatch(words);
  });
});
