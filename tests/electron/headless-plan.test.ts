import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { ArchiveRecord } from "../../core/archive/archive-format.ts";
import { itemOf } from "../../core/progress/counts/likeness.ts";
import { archiveText, entryValue } from "../support/archives.ts";
import { exerciseOf } from "../support/drills.ts";
import { within } from "./within.ts";

let folder = "";
const at = (name: string) => path.join(folder, name);
const noon = (day: string) => Date.parse(`${day}T12:00:00Z`);
const attempt = (id: string, day: string): ArchiveRecord => ({
  kind: "attempt",
  id,
  value: entryValue({ atEpochMs: noon(day), zone: "Europe/Dublin" }),
});
const item = itemOf(exerciseOf());
const suspended: ArchiveRecord = {
  kind: "wish",
  id: item,
  value: { kind: "suspended", wishedAtEpochMs: noon("2026-11-20") },
};

beforeAll(() => {
  folder = mkdtempSync(path.join(os.tmpdir(), "reedpath-plans-"));
  const files: Readonly<Record<string, readonly ArchiveRecord[]>> = {
    "practised.gz": [attempt("a", "2026-11-03"), attempt("b", "2026-12-01")],
    "suspended.gz": [suspended, attempt("a", "2026-11-03")],
    "empty.gz": [],
  };
  for (const [name, records] of Object.entries(files))
    writeFileSync(at(name), gzipSync(archiveText(records)));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const plan = (...args: readonly string[]) => within("plan", ...args);

interface TestedLine {
  readonly kind: string;
  readonly minutes: number;
  readonly parts?: readonly { readonly item: string; readonly why: string; readonly recipe: object }[];
}
const linesOf = (stdout: string): readonly TestedLine[] => JSON.parse(stdout).lines;

describe("plan", () => {
  test("says what to do on a day from what was practised up to it, with the reason", async () => {
    const { status, stdout } = await plan(at("practised.gz"), "--day", "2026-11-28", "--minutes", "20");
    expect(status).toBe(0);
    const told = JSON.parse(stdout);
    expect(told).toMatchObject({
      schema: "reedpath.plan",
      version: 1,
      day: "2026-11-28",
      minutes: 20,
      asked: 20,
    });
    const due = linesOf(stdout).find(({ kind }) => kind === "due");
    // [calc] four of fifteen notes right, practised on 3 November; what was practised in December is not known yet
    expect(due?.parts).toMatchObject([
      {
        item,
        why: "last on 3 November, first try 4 of 15; 25 days since",
        recipe: { kind: "attempt", id: "a" },
      },
    ]);
  });

  test("is the same for the same archive and day, and another with the next day's history", async () => {
    const once = await plan(at("practised.gz"), "--day", "2026-11-28");
    expect((await plan(at("practised.gz"), "--day", "2026-11-28")).stdout).toBe(once.stdout);
    expect((await plan(at("practised.gz"), "--day", "2026-12-02")).stdout).not.toBe(once.stdout);
  });

  test("leaves out what the player suspended", async () => {
    const { stdout } = await plan(at("suspended.gz"), "--day", "2026-11-28");
    const items = linesOf(stdout).flatMap(({ parts = [] }) => parts.map((part) => part.item));
    expect(items.length).toBeGreaterThan(2);
    expect(items).not.toContain(item);
  });

  test("gives a first plan where nothing was practised", async () => {
    const { status, stdout } = await plan(at("empty.gz"), "--day", "2026-11-28", "--known", "blocked");
    expect(status).toBe(0);
    expect(linesOf(stdout)[0]).toMatchObject({ kind: "warm-up" });
  });

  test.each([
    [["--day", "2026-02-30"], '--day is a day of the calendar such as 2026-11-28, not "2026-02-30"'],
    [["--minutes", "4"], '--minutes must be a whole number from 5 to 120, not "4"'],
    [["--known", "shuffled"], "--known"],
  ])("refuses %j in one line", async (args, words) => {
    const { status, stdout, stderr } = await plan(at("empty.gz"), ...args);
    expect(status).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toContain(words);
    expect(stderr.trim()).not.toContain("\n");
  });
});
