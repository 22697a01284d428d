import { readFile } from "node:fs/promises";
import { gunzipSync, gzipSync } from "node:zlib";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import type { HistoryEntry } from "../../renderer/store/history-entry.ts";
import { newEntry, withId } from "../renderer/store-entries.ts";
import { exerciseOf } from "../support/drills.ts";
import { readTable } from "../support/read-csv.ts";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { keepEntries, keptAttempts } from "./kept.ts";

const { open } = oneBrowserForAll();
const PATIENT = { timeout: 30_000 };

/** Attempts of the village dance band's evenings, one a day. */
const entries = (names: readonly string[]): readonly HistoryEntry[] =>
  names.map((name) =>
    withId(newEntry({ atEpochMs: 1_790_000_000_000 + name.charCodeAt(0) * 86_400_000 }), `attempt-${name}`),
  );

const archivePart = (page: Page) => page.getByRole("region", { name: "Archive", exact: true });

async function saveArchive(page: Page): Promise<Buffer> {
  const [download] = await Promise.all([
    page.waitForEvent("download", PATIENT),
    archivePart(page).getByRole("button", { name: "Save an archive", exact: true }).click(),
  ]);
  expect(download.suggestedFilename()).toMatch(/^reedpath-archive-\d{4}-\d\d-\d\d\.reedpath$/);
  await archivePart(page)
    .getByText(/^Saved: /)
    .waitFor(PATIENT);
  return readFile(await download.path());
}

async function lookAt(page: Page, archive: Buffer): Promise<void> {
  const file = { name: "from the other computer.gz", mimeType: "application/gzip", buffer: archive };
  await page.getByLabel("Archive file").setInputFiles(file);
}

async function bringIn(page: Page, archive: Buffer): Promise<void> {
  await lookAt(page, archive);
  await page.getByRole("button", { name: "Bring in what is new" }).click(PATIENT);
  await page.getByText(/^Brought in: /).waitFor(PATIENT);
}

async function deleteEverything(page: Page): Promise<void> {
  await archivePart(page).getByRole("button", { name: "Delete everything …" }).press("Enter");
  const asked = page.getByRole("region", { name: "Delete everything" });
  expect(await asked.getByRole("button", { name: "Delete everything" }).isDisabled()).toBe(true);
  expect(await axeViolations(page)).toEqual([]);
  await asked.getByLabel("Yes, all of it").check();
  await asked.getByRole("button", { name: "Delete everything" }).press("Enter");
  await page.getByRole("heading", { name: "Today", exact: true }).waitFor(PATIENT);
  await page.getByText("Everything was deleted.").waitFor(PATIENT);
}

const idsOf = async (page: Page) => (await keptAttempts(page)).map(({ id }) => id).sort();

async function checkHistory(page: Page): Promise<void> {
  await enterRoom(page, ROOM_KEYS.settings);
  await page.getByRole("button", { name: "Check the history" }).click();
  await page.getByText(/agree/).waitFor(PATIENT);
}

describe.skipIf(chromiumPath === null)(`an archive${whyNoBrowser}`, () => {
  test("saved, everything deleted, brought in again: the same history and the same file, bit for bit", async () => {
    const { page, complaints } = await open({ roomKey: null });
    await keepEntries(page, entries(["a", "b", "c"]));
    await enterRoom(page, ROOM_KEYS.settings);
    await page.getByLabel("dark", { exact: true }).check();
    const before = await keptAttempts(page);
    expect(before.map(({ takeSamples }) => takeSamples)).toEqual([48_000, 48_000, 48_000]); // as made
    const archive = await saveArchive(page);
    // What another program reads in it: gzip, then a JSON object a line.
    const lines = gunzipSync(archive).toString().trimEnd().split("\n");
    expect(lines.map((line) => (JSON.parse(line) as { readonly kind: string }).kind)).toEqual([
      "header",
      "settings",
      ...["a", "b", "c"].flatMap(() => ["attempt", "take"]),
      "end",
    ]);

    await deleteEverything(page);
    expect(await idsOf(page)).toEqual([]);
    await enterRoom(page, ROOM_KEYS.settings);
    await lookAt(page, archive);
    await page.getByText("New here: 3 attempts, the settings.").waitFor(PATIENT);
    await page.getByText(/It holds 3 attempts from \d{4}-\d\d-\d\d to \d{4}-\d\d-\d\d, 3 takes/).waitFor();
    // Where nothing was practised yet an archive's settings come with it.
    expect(await page.getByLabel("Its settings").isChecked()).toBe(true);
    expect(await axeViolations(page)).toEqual([]);
    await page.getByRole("button", { name: "Bring in what is new" }).click();
    await page.getByText("Brought in: 3 attempts, the settings.").waitFor(PATIENT);
    expect(await keptAttempts(page)).toEqual(before);
    expect(await page.evaluate(() => document.documentElement.dataset.look)).toBe("dark");
    await checkHistory(page);
    expect((await saveArchive(page)).equals(archive)).toBe(true);
    expect(complaints).toEqual([]);
  });

  test("of two computers merges: every attempt once, and again changes nothing", async () => {
    const one = await open({ roomKey: null });
    const other = await open({ roomKey: null });
    await keepEntries(one.page, entries(["a", "b", "c"]));
    await keepEntries(other.page, entries(["c", "d"]));
    for (const { page } of [one, other]) await enterRoom(page, ROOM_KEYS.settings);
    const [ofOne, ofOther] = [await saveArchive(one.page), await saveArchive(other.page)];
    await bringIn(one.page, ofOther);
    await bringIn(other.page, ofOne);
    for (const { page, complaints } of [one, other]) {
      expect(await idsOf(page)).toEqual(["attempt-a", "attempt-b", "attempt-c", "attempt-d"]);
      await checkHistory(page);
      await lookAt(page, ofOther);
      await page.getByText("All of it is here already.").waitFor(PATIENT);
      expect(await page.getByRole("button", { name: "Bring in what is new" }).isDisabled()).toBe(true);
      expect(complaints).toEqual([]);
    }
    const whole = await saveArchive(one.page);
    expect(whole.equals(await saveArchive(other.page))).toBe(true);
  });

  test("that is newer, cut off or something else is refused with a reason, and nothing is touched", async () => {
    const { page, complaints } = await open({ roomKey: null });
    await keepEntries(page, entries(["a", "b"]));
    await enterRoom(page, ROOM_KEYS.settings);
    const archive = await saveArchive(page);
    const text = gunzipSync(archive).toString();
    const broken: readonly (readonly [Buffer, string])[] = [
      [gzipSync(text.replace(/"version":\d+/, '"version":9')), "written by a newer version of this program"],
      [archive.subarray(0, archive.length - 100), "damaged or cut off"],
      [Buffer.from("words"), "does not begin as gzip does"],
      [gzipSync("{}\n"), "not an archive of this program"],
    ];
    for (const [file, words] of broken) {
      await lookAt(page, file);
      const alert = archivePart(page).getByRole("alert").filter({ hasText: words });
      await alert.waitFor(PATIENT);
      expect(await alert.textContent()).toMatch(/Nothing was changed\.$/);
    }
    expect(await axeViolations(page)).toEqual([]);
    expect((await saveArchive(page)).equals(archive)).toBe(true);
    expect(complaints).toEqual([]);
  });

  test("is asked for once twenty attempts are in none, can be put off, and is no longer once one is saved", async () => {
    const { page, complaints } = await open({ roomKey: null });
    await keepEntries(page, entries([..."abcdefghijklmnopqrst"]));
    await enterRoom(page, ROOM_KEYS.progress);
    const reminder = page.getByRole("complementary", { name: "Archive" });
    await reminder.getByText("20 attempts are in no archive yet").waitFor(PATIENT);
    expect(await axeViolations(page)).toEqual([]);
    await reminder.getByRole("button", { name: "Not this week" }).click();
    await reminder.waitFor({ state: "detached" });
    await page.reload();
    await enterRoom(page, ROOM_KEYS.today);
    await page.getByText(exerciseOf().title).first().waitFor(PATIENT);
    expect(await reminder.count()).toBe(0);
    await page.evaluate(async () => {
      // A week later: the wish to be left alone is over.
      const database = await new Promise<IDBDatabase>((resolve, reject) => {
        const request = indexedDB.open("reedpath");
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
      await new Promise((resolve) => {
        const request = database.transaction("meta", "readwrite").objectStore("meta").delete("archive");
        request.onsuccess = resolve;
      });
      database.close();
    });
    await page.reload();
    const [download] = await Promise.all([
      page.waitForEvent("download", PATIENT),
      reminder.getByRole("button", { name: "Save an archive" }).click(PATIENT),
    ]);
    expect(gunzipSync(await readFile(await download.path())).toString()).toContain('"kind":"end"');
    await page.getByText(/^Saved: /).waitFor(PATIENT);
    await page.reload();
    await page.getByText(exerciseOf().title).first().waitFor(PATIENT);
    expect(await reminder.count()).toBe(0);
    expect(complaints).toEqual([]);
  });
});

describe.skipIf(chromiumPath === null)(`the list of attempts${whyNoBrowser}`, () => {
  test("goes out as a table, what the filter finds and nothing else, and so do all its notes", async () => {
    const { page, complaints } = await open({ roomKey: null });
    const starred = entries(["c"]).map((entry) => ({ ...entry, starred: true as const }));
    await keepEntries(page, [...entries(["a", "b"]), ...starred]);
    await enterRoom(page, ROOM_KEYS.progress);
    await page.getByRole("button", { name: "Attempts", exact: true }).click(PATIENT);
    const save = async (of: string) => {
      const [download] = await Promise.all([
        page.waitForEvent("download", PATIENT),
        page.getByRole("button", { name: of }).click(PATIENT),
      ]);
      await page.getByText(`Saved: ${download.suggestedFilename()}`).waitFor(PATIENT);
      return {
        name: download.suggestedFilename(),
        rows: readTable(await readFile(await download.path(), "utf8")),
      };
    };
    const all = await save("these attempts");
    expect(all.name).toMatch(/^reedpath-attempts-\d{4}-\d\d-\d\d\.csv$/);
    expect(all.rows.map(({ attempt }) => attempt)).toEqual(["attempt-c", "attempt-b", "attempt-a"]);
    expect(await axeViolations(page)).toEqual([]);
    await page.getByLabel(/star/i).first().check();
    await page.getByText("1 attempt", { exact: true }).waitFor(PATIENT);
    expect((await save("these attempts")).rows.map(({ attempt }) => attempt)).toEqual(["attempt-c"]);
    const notes = await save("all their notes");
    // [calc] one row for each note of the drill, and the one that was too many or none.
    expect(notes.rows.filter(({ note }) => note !== "")).toHaveLength(exerciseOf().notes.length);
    expect(new Set(notes.rows.map(({ attempt }) => attempt))).toEqual(new Set(["attempt-c"]));
    expect(complaints).toEqual([]);
  });
});
