import { mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { INSTANCE_PATH, type LoopbackServer } from "../../electron/loopback-server.ts";
import { SCHEMA_VERSION } from "../../renderer/store/database.ts";
import { exerciseOf } from "../support/drills.ts";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, serveApp, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { keptAttempts, keptRows } from "./kept.ts";
import { KillableBrowser } from "./killable-browser.ts";
import { microphoneTake } from "./takes.ts";
import { engineFolder, tearLog, type Which } from "./torn-log.ts";

const { open } = oneBrowserForAll();
const PATIENT = { timeout: 60_000 };
/** Of the simulated player; marked as a recording, so that no microphone is needed. */
const played = () => microphoneTake(exerciseOf(), 71, true).wavPath;

const unkept = (page: Page) => page.getByRole("complementary", { name: "Not kept" });

async function markOne(page: Page): Promise<void> {
  await enterRoom(page, ROOM_KEYS.drills);
  await page.getByRole("button", { name: "Practise this" }).click();
  await page.getByLabel("Recording to mark").setInputFiles(played());
  await page
    .locator(".one-sentence")
    .filter({ hasText: /notes right/ })
    .waitFor(PATIENT);
}

/** Presses the button and gives the file that comes. */
async function savedFile(page: Page, button: string): Promise<string> {
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    unkept(page).getByRole("button", { name: button }).click(),
  ]);
  expect(download.suggestedFilename()).toMatch(/^reedpath-not-kept-\d{4}-\d\d-\d\d\./);
  // The browser takes its downloads with it.
  const file = path.join(mkdtempSync(path.join(tmpdir(), "reedpath-")), download.suggestedFilename());
  await download.saveAs(file);
  return file;
}

/** What bringing a file in says, in the settings. */
async function broughtIn(page: Page, file: string): Promise<string> {
  await enterRoom(page, ROOM_KEYS.settings);
  await page.getByLabel("Archive file").setInputFiles(file);
  await page.getByRole("button", { name: "Bring in what is new" }).click();
  const said = page.getByText(/^Brought in: /);
  await said.waitFor(PATIENT);
  return (await said.textContent()) ?? "";
}

describe.skipIf(chromiumPath === null)(`what cannot be kept${whyNoBrowser}`, () => {
  test("a history of a newer version is named and left as it is; what is played goes into a file", async () => {
    const { page } = await open({ roomKey: null });
    const window = page.url();
    await page.goto(new URL(INSTANCE_PATH, window).href);
    await makeNewer(page);
    await page.goto(window);
    await unkept(page)
      .getByText(
        "Nothing can be kept: a newer version of this program wrote the settings; open that version, or update this one.",
      )
      .waitFor(PATIENT);
    expect(await axeViolations(page)).toEqual([]);
    await markOne(page);
    await unkept(page)
      .getByText(/^1 attempt is only in this window: a newer version of this program wrote the history; /)
      .waitFor();
    const file = await savedFile(page, "Save it to a file");
    await unkept(page).getByRole("button", { name: "Try again" }).click();
    await unkept(page)
      .getByText(/a newer version/)
      .waitFor();
    expect(await newerAsItIs(page)).toEqual({
      version: 10 * SCHEMA_VERSION + 940,
      rows: [{ id: 1, of: "later" }],
    });
    const other = await open();
    expect(await broughtIn(other.page, file)).toBe("Brought in: 1 attempt.");
  }, 240_000);

  test("a window that was closed is not taken for one that was killed", async () => {
    const { page, context } = await open();
    await expect.poll(() => keptRows(page, "engine")).toEqual([{ id: "open" }]);
    // As long as another is open, that can still be killed.
    const beside = await context.newPage();
    await beside.goto(page.url());
    await enterRoom(beside, ROOM_KEYS.drills);
    await beside.goto(new URL(INSTANCE_PATH, page.url()).href);
    // Time enough for the end of the one to be noted.
    await page.waitForTimeout(1000);
    expect(await keptRows(page, "engine")).toEqual([{ id: "open" }]);
    // Left for another page of the same origin: the window is closed.
    await page.goto(new URL(INSTANCE_PATH, page.url()).href);
    await expect.poll(() => keptRows(page, "engine")).toEqual([]);
  });

  test("two windows at once keep what is played in each", async () => {
    const { page, context } = await open();
    const beside = await context.newPage();
    await beside.goto(page.url());
    await Promise.all([markOne(page), markOne(beside)]);
    await Promise.all([page, beside].map((one) => one.getByText("Kept in the history.").waitFor(PATIENT)));
    expect(await keptAttempts(page)).toHaveLength(2);
  }, 240_000);
});

describe.skipIf(chromiumPath === null)(`a full or damaged disk${whyNoBrowser}`, () => {
  let browser: KillableBrowser;
  let server: LoopbackServer;
  beforeAll(async () => {
    if (chromiumPath !== null) server = await serveApp();
  });
  beforeEach(() => {
    browser = new KillableBrowser();
  });
  afterEach(() => browser.clearAway());
  afterAll(async () => server?.close());

  test("a full disk is told in one sentence; tried again with room it is kept once, whatever file it went into before", async () => {
    // Of the same origin, and nothing that opens the database: the browser asks for the quota when that is opened, and
    // again only where what it then knew is used up.
    const { page } = await browser.start(new URL(INSTANCE_PATH, server.url).href);
    const devtools = await page.context().newCDPSession(page);
    const { origin } = new URL(server.url);
    // Room for the database, not for a take of twelve seconds. Chromium answers the same on a full disk.
    await devtools.send("Storage.overrideQuotaForOrigin", { origin, quotaSize: 300_000 });
    await page.goto(server.url);
    await markOne(page);
    await unkept(page)
      .getByText(
        "1 attempt is only in this window: there is no room left on the disk for the history; make room on it and try again, or save it to a file.",
      )
      .waitFor(PATIENT);
    expect(await axeViolations(page)).toEqual([]);
    const file = await savedFile(page, "Save it to a file");
    await unkept(page)
      .getByText(/^Saved as reedpath-not-kept-/)
      .waitFor();
    await unkept(page).getByRole("button", { name: "Try again" }).click();
    await expect.poll(() => unkept(page).getByRole("button", { name: "Try again" }).isEnabled()).toBe(true);
    expect(await keptAttempts(page)).toEqual([]);
    await devtools.send("Storage.overrideQuotaForOrigin", { origin });
    await unkept(page).getByRole("button", { name: "Try again" }).click();
    await unkept(page).waitFor({ state: "detached" });
    await page.getByText("Kept in the history.").waitFor();
    const [kept, ...others] = await keptAttempts(page);
    expect(others).toEqual([]);
    // [calc] count-in and fifteen beats at 90 a minute: 12.7 s and more
    expect(kept?.takeSamples).toBeGreaterThan(12 * 44_100);
    await enterRoom(page, ROOM_KEYS.settings);
    await page.getByLabel("Archive file").setInputFiles(file);
    // It holds nothing that is new here.
    expect(await page.getByRole("button", { name: "Bring in what is new" }).isDisabled()).toBe(true);

    await browser.kill();

    const other = await open();
    expect(await broughtIn(other.page, file)).toBe("Brought in: 1 attempt.");
    expect((await keptAttempts(other.page)).map(({ id, attempt }) => ({ id, attempt }))).toEqual([
      { id: kept?.id, attempt: kept?.attempt },
    ]);
  }, 240_000);

  test("a history that the browser throws away as damaged comes back out of its second copy; with both gone that is told, until it was read", async () => {
    const first = await browser.start(server.url);
    await markOne(first.page);
    await first.page.getByText("Kept in the history.").waitFor(PATIENT);
    const kept = await keptAttempts(first.page);
    // What stands beside the database is on the disk within seconds.
    await expect.poll(() => witnessOnDisk(browser.profile), PATIENT).toContain('{"attempts":1,');
    await browser.kill();
    damage(browser.profile, "history");
    const again = await browser.start(server.url);
    const returned = again.page.getByRole("complementary", { name: "History brought back" });
    await returned
      .getByText(
        "The history was damaged on the disk. All of it came back out of the second copy: 1 attempt.",
      )
      .waitFor(PATIENT);
    expect(await axeViolations(again.page)).toEqual([]);
    expect(await keptAttempts(again.page)).toEqual(kept);
    const lost = again.page.getByRole("complementary", { name: "History lost" });
    expect(await lost.count()).toBe(0);
    await returned.getByRole("button", { name: "I have read it" }).click();
    await expect.poll(() => witnessOnDisk(browser.profile), PATIENT).toContain('{"attempts":1,');
    await browser.kill();

    damage(browser.profile, "history");
    damage(browser.profile, "second copy");
    const { page } = await browser.start(server.url);
    const gone = page.getByRole("complementary", { name: "History lost" });
    await gone
      .getByText(
        "The history with 1 attempt was damaged on the disk, and the browser began an empty one: bring in your newest archive or backup, under Settings.",
      )
      .waitFor(PATIENT);
    await page.reload();
    await gone.getByRole("button", { name: "I have read it" }).click(PATIENT);
    await page.reload();
    await enterRoom(page, ROOM_KEYS.drills);
    expect(await gone.count()).toBe(0);
  }, 240_000);

  test("a log with a torn end, which has the browser throw a database away, harms neither of the two", async () => {
    const first = await browser.start(server.url);
    await markOne(first.page);
    await first.page.getByText("Kept in the history.").waitFor(PATIENT);
    const [before] = await keptAttempts(first.page);
    await browser.kill();
    expect([tearLog(browser.profile, "history"), tearLog(browser.profile, "second copy")]).toEqual([
      true,
      true,
    ]);
    const second = await browser.start(server.url);
    await markOne(second.page);
    await second.page.getByText("Kept in the history.").waitFor(PATIENT);
    await browser.kill();
    const third = await browser.start(server.url);
    await enterRoom(third.page, ROOM_KEYS.drills);
    expect(await third.page.getByRole("complementary", { name: /^History / }).count()).toBe(0);
    const kept = await keptAttempts(third.page);
    expect(kept).toHaveLength(2);
    expect(kept.find(({ id }) => id === before?.id)).toEqual(before);
    await browser.kill();

    // That such an end is what it is held to be: written on as it is, the database is gone the time after.
    expect(tearLog(browser.profile, "history")).toBe(true);
    const other = await browser.start(new URL(INSTANCE_PATH, server.url).href);
    await writeAsItIs(other.page);
    await browser.kill();
    const last = await browser.start(server.url);
    await last.page.getByText(/All of it came back out of the second copy: 2 attempts\./).waitFor(PATIENT);
    expect(await keptAttempts(last.page)).toEqual(kept);
  }, 240_000);

  test("a database that cannot be opened at all is told of; what is played goes into a file, and later into the history", async () => {
    const first = await browser.start(server.url);
    await markOne(first.page);
    await first.page.getByText("Kept in the history.").waitFor(PATIENT);
    const [before] = await keptAttempts(first.page);
    await browser.kill();
    const folder = folderOfDatabase(browser.profile);
    renameSync(folder, `${folder}.away`);
    writeFileSync(folder, "no folder");
    const { page } = await browser.start(server.url);
    await unkept(page)
      .getByText(/^Nothing can be kept: the settings cannot be used here \(.*\); close every window/)
      .waitFor(PATIENT);
    await markOne(page);
    await unkept(page)
      .getByText(/^1 attempt is only in this window: the history cannot be used here/)
      .waitFor(PATIENT);
    await unkept(page).getByRole("button", { name: "Try again" }).click();
    await unkept(page)
      .getByText(/^1 attempt is only in this window/)
      .waitFor(PATIENT);
    const file = await savedFile(page, "Save it to a file");
    await browser.kill();
    rmSync(folder);
    renameSync(`${folder}.away`, folder);
    const again = await browser.start(server.url);
    expect(await broughtIn(again.page, file)).toBe("Brought in: 1 attempt.");
    const there = await keptAttempts(again.page);
    expect(there).toHaveLength(2);
    expect(there.find(({ id }) => id === before?.id)).toEqual(before);
  }, 240_000);
});

function folderOfDatabase(profile: string): string {
  const folder = engineFolder(profile, "history");
  if (folder === null) throw new Error("the browser kept no database");
  return folder;
}

/** What the browser has written of `localStorage`. */
function witnessOnDisk(profile: string): string {
  const folder = path.join(profile, "Default", "Local Storage", "leveldb");
  const logs = readdirSync(folder).filter((name) => name.endsWith(".log"));
  return logs.map((name) => readFileSync(path.join(folder, name), "latin1")).join("");
}

/** Every byte of the engine's files becomes another. */
function damage(profile: string, which: Which): void {
  const folder = engineFolder(profile, which);
  if (folder === null) throw new Error("the browser kept no database");
  const files = readdirSync(folder).map((name) => path.join(folder, name));
  if (files.length < 3) throw new Error("the database has fewer files than it must have");
  for (const file of files) {
    writeFileSync(
      file,
      Uint8Array.from({ length: statSync(file).size }, (_, i) => (37 * i + 11) % 256),
    );
  }
}

/** Writes into the database as a program would that knows nothing of its log. */
function writeAsItIs(page: Page): Promise<void> {
  return page.evaluate(
    () =>
      new Promise<void>((resolve, reject) => {
        const opening = indexedDB.open("reedpath");
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const writing = opening.result.transaction("engine", "readwrite", { durability: "strict" });
          writing.objectStore("engine").put({ id: "nothing 0", bytes: new Uint8Array(2000).fill(5) });
          writing.oncomplete = () => resolve();
        };
      }),
  );
}

/** A database as some later version may leave it. */
async function makeNewer(page: Page): Promise<void> {
  await page.evaluate(
    async (version) => {
      await new Promise((done) => {
        indexedDB.deleteDatabase("reedpath").onsuccess = done;
      });
      await new Promise<void>((resolve) => {
        const opening = indexedDB.open("reedpath", version);
        opening.onupgradeneeded = () =>
          opening.result.createObjectStore("later", { keyPath: "id" }).put({ id: 1, of: "later" });
        opening.onsuccess = () => {
          opening.result.close();
          resolve();
        };
      });
    },
    10 * SCHEMA_VERSION + 940,
  );
}

function newerAsItIs(page: Page): Promise<{ version: number; rows: unknown[] }> {
  return page.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const opening = indexedDB.open("reedpath");
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const database = opening.result;
          const reading = database.transaction("later").objectStore("later").getAll();
          reading.onsuccess = () => {
            const { version } = database;
            database.close();
            resolve({ version, rows: reading.result });
          };
        };
      }),
  );
}
