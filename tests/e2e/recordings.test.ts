import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { describe, expect, test } from "vitest";
import { writeWav } from "../../core/listen/wav.ts";
import type { Plant } from "../../core/simulate/plants.ts";
import { simulateTake } from "../../core/simulate/simulated-take.ts";
import { exerciseOf } from "../support/drills.ts";
import { readTable } from "../support/read-csv.ts";
import { axeViolations, chromiumPath, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { keptAttempts } from "./kept.ts";

/** What a new visitor finds chosen. */
const exercise = exerciseOf();
const RATE_HZ = 44_100;
/** A busy machine marks a recording in seconds. */
const PATIENT = { timeout: 60_000 };

const { open } = oneBrowserForAll();

/** Three recordings of the drill, of which the second lacks a note, and one that is none. */
function folderOfRecordings(): string {
  const folder = path.join(mkdtempSync(path.join(tmpdir(), "reedpath-")), "class");
  mkdirSync(folder);
  const take = (seed: number, ...plants: readonly Plant[]) =>
    writeWav(simulateTake(exercise, { seed, plants, sampleRateHz: RATE_HZ }).samples, RATE_HZ, "pcm16");
  const files: Readonly<Record<string, string | Uint8Array>> = {
    "take 1.wav": take(1),
    "take 2.wav": take(2, { kind: "missed", index: 4 }),
    "take 10.wav": take(3),
    "words.wav": "no sound at all",
    "list.txt": "no recording",
  };
  for (const [name, content] of Object.entries(files)) writeFileSync(path.join(folder, name), content);
  return folder;
}

describe.skipIf(chromiumPath === null)(`a folder of recordings in a real browser${whyNoBrowser}`, () => {
  test("is marked, stopped and gone on with, saved as a table, and each opens on the sheet and leads back", async () => {
    const { page, complaints } = await open();
    await page.getByRole("button", { name: "Practise this" }).click();
    await page.getByLabel("Folder of recordings to mark").setInputFiles(folderOfRecordings());
    await page.getByText(/^Marking 1 of 4: take 1\.wav/).waitFor();
    await page.keyboard.press("Escape");
    await page.getByText(/stopped before the last \d\.$/).waitFor();
    expect(await axeViolations(page)).toEqual([]);
    await page.getByRole("button", { name: /^Go on with the other/ }).click();
    expect(await axeViolations(page)).toEqual([]);
    await page.getByText("3 of 4 marked, 1 could not be.").waitFor(PATIENT);
    expect(await axeViolations(page)).toEqual([]);
    expect(await page.getByRole("rowheader").allTextContents()).toEqual([
      "take 1.wav",
      "take 2.wav",
      "take 10.wav",
      "words.wav",
    ]);
    const saving = page.waitForEvent("download");
    await page.getByRole("button", { name: "Save the table (CSV)" }).click();
    const rows = readTable(readFileSync(await (await saving).path(), "utf8").replace(/^\uFEFF/, ""));
    // As planted: 15 notes, of which one is not played.
    expect(rows.map(({ recording, right, missed }) => [recording, right, missed])).toEqual([
      ["take 1.wav", "15", "0"],
      ["take 2.wav", "14", "1"],
      ["take 10.wav", "15", "0"],
      ["words.wav", "", ""],
    ]);
    expect(rows[3]?.["not marked because"]).toMatch(/^not a WAV file/);

    await page.getByRole("button", { name: "take 1.wav" }).focus();
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    await page.getByText("Not in your history: it may be another player's.").waitFor(PATIENT);
    await page.getByText(/^14 of 15 notes right/).waitFor();
    expect(await keptAttempts(page)).toEqual([]);
    await page.keyboard.press("Escape");
    await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toBe("take 2.wav");
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Keep in my history" }).click(PATIENT);
    await page.getByText("Kept in the history.").waitFor();
    expect(await keptAttempts(page)).toHaveLength(1);
    await page.getByRole("button", { name: "Table of recordings (4)" }).click();
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: /^Again/ }).waitFor();
    expect(complaints).toEqual([]);
  });
});
