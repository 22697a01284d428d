import { statSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import type { Page } from "playwright-core";
import { enterRoom, ROOM_KEYS } from "../../e2e/browser.ts";
import { KillableBrowser } from "../../e2e/killable-browser.ts";
import type { StoreRoom } from "../../e2e/store-room.ts";
import { BrowserWatch, type Used } from "./browser-watch.ts";

/** What saving an archive and bringing it in takes. */
export interface ArchiveTimes {
  readonly attempts: number;
  readonly takes: number;
  readonly fileMegabytes: number;
  readonly save: Taken;
  readonly look: Taken;
  readonly bringIn: Taken;
  /** From the click on Stop to the word that it is, in milliseconds; and what had come in by then. */
  readonly stop: { readonly savingMs: number; readonly bringingInMs: number; readonly cameIn: number };
  /** A full recount of what was brought in, and whether it holds the same attempts. */
  readonly differences: number;
  readonly same: boolean;
}

interface Taken extends Used {
  readonly seconds: number;
}

const FOREVER = { timeout: 0 };
/** Share of the work that is done before it is stopped. */
const INTO_IT = 0.3;

const archivePart = (page: Page) => page.getByRole("region", { name: "Archive", exact: true });

/** @param full the profile whose database holds the attempts */
export async function archiveTimes(
  room: StoreRoom,
  full: KillableBrowser,
  about: { readonly attempts: number; readonly takes: number },
): Promise<ArchiveTimes> {
  const folder = await mkdtemp(path.join(tmpdir(), "reedpath-archive-"));
  const file = path.join(folder, "archive.gz");
  const empty = new KillableBrowser();
  try {
    const saved = await saving(room, full, file);
    const brought = await bringing(room, empty, file);
    const [ids, others] = [await idsIn(room, full), await idsIn(room, empty)];
    const verified = await inStore(room, empty, (page) => page.evaluate(() => storeRoom.verify()));
    return {
      ...about,
      fileMegabytes: Math.round(statSync(file).size / 1e5) / 10,
      save: saved.taken,
      look: brought.look,
      bringIn: brought.bringIn,
      stop: { savingMs: saved.stopMs, bringingInMs: brought.stopMs, cameIn: brought.cameIn },
      differences: verified.different,
      same: ids.length === about.attempts && ids.join() === others.join(),
    };
  } finally {
    await empty.clearAway();
    await rm(folder, { recursive: true, force: true });
  }
}

async function saving(room: StoreRoom, full: KillableBrowser, file: string) {
  const { page, watch } = await inSettings(room, full);
  const save = archivePart(page).getByRole("button", { name: "Save an archive", exact: true });
  await save.click();
  await under(page, INTO_IT);
  const stopMs = await stopped(page, "Stopped. No archive was saved.");
  const taken = await timed("saving", watch, async () => {
    const [download] = await Promise.all([page.waitForEvent("download", FOREVER), save.click()]);
    await archivePart(page)
      .getByText(/^Saved: /)
      .waitFor(FOREVER);
    await download.saveAs(file);
  });
  await full.kill();
  return { taken, stopMs };
}

async function bringing(room: StoreRoom, empty: KillableBrowser, file: string) {
  const { page, watch } = await inSettings(room, empty);
  const bring = page.getByRole("button", { name: "Bring in what is new" });
  const lookThrough = async () => {
    await chooseFile(page, file);
    await bring.waitFor(FOREVER);
  };
  const look = await timed("looking", watch, lookThrough);
  await bring.click();
  await under(page, INTO_IT);
  const stopMs = await stopped(page, /^Stopped\. What came in so far is whole/);
  await empty.kill();
  const cameIn = (await idsIn(room, empty)).length;

  const again = await inSettings(room, empty);
  await chooseFile(again.page, file);
  const bringRest = again.page.getByRole("button", { name: "Bring in what is new" });
  await bringRest.waitFor(FOREVER);
  const bringIn = await timed("bringing in", again.watch, async () => {
    await bringRest.click();
    await again.page.getByText(/^Brought in: /).waitFor(FOREVER);
  });
  await empty.kill();
  return { look, bringIn, stopMs, cameIn };
}

async function inSettings(room: StoreRoom, browser: KillableBrowser) {
  const { page } = await browser.start(room.url);
  await page.getByRole("navigation").waitFor(FOREVER);
  await enterRoom(page, ROOM_KEYS.settings);
  return { page, watch: new BrowserWatch(browser.pid) };
}

/** Through the browser itself, which reads the file from the disk as it does for a player. */
async function chooseFile(page: Page, file: string): Promise<void> {
  const devtools = await page.context().newCDPSession(page);
  const { root } = await devtools.send("DOM.getDocument");
  const selector = 'input[aria-label="Archive file"]';
  const { nodeId } = await devtools.send("DOM.querySelector", { nodeId: root.nodeId, selector });
  await devtools.send("DOM.setFileInputFiles", { files: [file], nodeId });
}

/** Waits until a share of what goes on is done. */
async function under(page: Page, share: number): Promise<void> {
  await page.waitForFunction(
    (least) => (document.querySelector<HTMLProgressElement>(".busy-line progress")?.value ?? 0) > least,
    share,
    FOREVER,
  );
}

/** From the click to the words, in milliseconds. */
async function stopped(page: Page, words: string | RegExp): Promise<number> {
  const began = performance.now();
  await archivePart(page).getByRole("button", { name: "Stop", exact: true }).click();
  await page.getByText(words).waitFor(FOREVER);
  return Math.round(performance.now() - began);
}

async function timed(what: string, watch: BrowserWatch, act: () => Promise<void>): Promise<Taken> {
  const began = performance.now();
  watch.start();
  await act();
  const seconds = Math.round((performance.now() - began) / 100) / 10;
  const used = watch.stop();
  process.stderr.write(
    `${what}: ${seconds} s, ${used.processorSeconds} s of processor, ${used.megabytes} MB\n`,
  );
  return { seconds, ...used };
}

const idsIn = async (room: StoreRoom, browser: KillableBrowser) =>
  [...(await inStore(room, browser, (page) => page.evaluate(() => storeRoom.ids())))].sort();

async function inStore<T>(
  room: StoreRoom,
  browser: KillableBrowser,
  act: (page: Page) => Promise<T>,
): Promise<T> {
  const { page } = await browser.start(room.storeUrl);
  page.setDefaultTimeout(0);
  await page.waitForFunction(() => "storeRoom" in globalThis);
  const answer = await act(page);
  await browser.kill();
  return answer;
}
