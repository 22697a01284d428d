/**
 * A large history in a real Chromium: how much disk it takes as it grows, and how long each view takes from the key or the click to
 * its content on the screen. The attempts are marked ones of made-up days, put in by the archive's own way in, without takes.
 * With --archive instead: how long an archive of it takes out and in, in what memory, and whether it can be stopped.
 * Prints JSON. Usage: npm run bench:history -- [--attempts 180000] [--days 1825] [--archive [--takes 200]]
 */
import { readdirSync, statSync } from "node:fs";
import path from "node:path";
import { parseArgs } from "node:util";
import type { Page } from "playwright-core";
import { KillableBrowser } from "../e2e/killable-browser.ts";
import type { Some } from "../e2e/store-page/played-pool.ts";
import { buildStoreRoom } from "../e2e/store-room.ts";
import { type ArchiveTimes, archiveTimes } from "./history/archive-times.ts";
import { packedShares } from "./history/packed-shares.ts";
import { timeOf } from "./history/view-times.ts";
import { VIEWS } from "./history/views.ts";

const { values } = parseArgs({
  options: {
    attempts: { type: "string", default: "180000" },
    days: { type: "string", default: "1825" },
    archive: { type: "boolean", default: false },
    takes: { type: "string", default: "200" },
  },
});
const [total, days] = [Number(values.attempts), Number(values.days)];
const PARTS = [0.25, 0.5, 1];
const REPEATS = 5;
/** The evening before today, so that there is something due. */
const lastEveningMs = new Date().setUTCHours(18, 0, 0, 0) - 86_400_000;

const room = await buildStoreRoom();
const browser = new KillableBrowser();
const result = values.archive ? await archives() : await views();
await browser.clearAway();
await room.close();
process.stdout.write(`${JSON.stringify(result, null, 2)}\n`);

async function views() {
  const disk = await fill();
  const viewsMs = await times();
  const openedMs = await openingTime();
  const storeMs = await readTimes();
  return { attempts: total, days, disk, viewsMs, openedMs, storeMs, takes: packedShares() };
}

/** Of a quarter of the history and of all of it: what takes the square of the attempts shows. */
async function archives() {
  const done: ArchiveTimes[] = [];
  let from = 0;
  for (const part of [0.25, 1]) {
    const to = Math.round(total * part);
    // The newest of each part have takes, so many in all as there are parts.
    const takes = Number(values.takes);
    await fillPart({ from, to, total: to, days: Math.ceil(days * part), lastEveningMs, takes });
    const times = await archiveTimes(room, browser, { attempts: to, takes: takes * (done.length + 1) });
    process.stderr.write(`${JSON.stringify(times)}\n`);
    done.push(times);
    from = to;
  }
  return { days, archives: done };
}

async function fillPart(some: Some): Promise<number> {
  const { page } = await browser.start(room.storeUrl);
  await page.waitForFunction(() => "storeRoom" in globalThis);
  const seconds = await page.evaluate((one) => storeRoom.fill(one), some);
  await page.waitForTimeout(1000);
  await browser.kill();
  return seconds;
}

async function fill() {
  const done = [];
  let from = 0;
  for (const part of PARTS) {
    const to = Math.round(total * part);
    const seconds = await fillPart({ from, to, total, days, lastEveningMs });
    const bytes = sizeOf(path.join(browser.profile, "Default", "IndexedDB"));
    const copyBytes = sizeOf(path.join(browser.profile, "Default", "WebStorage"));
    process.stderr.write(
      `${to} attempts: ${Math.round(bytes / 1e6)} MB, second copy ${Math.round(copyBytes / 1e6)} MB, filled in ${Math.round(seconds)} s\n`,
    );
    done.push({
      attempts: to,
      megabytes: Math.round(bytes / 1e5) / 10,
      bytesAnAttempt: Math.round(bytes / to),
      copyMegabytes: Math.round(copyBytes / 1e5) / 10,
      attemptsASecond: Math.round((to - from) / seconds),
    });
    from = to;
  }
  return done;
}

function sizeOf(folder: string): number {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((one) => one.isFile())
    .reduce((sum, one) => sum + statSync(path.join(one.parentPath, one.name)).size, 0);
}

/** Median of several visits, the first apart: it has everything to read for the first time. */
async function times() {
  const { page } = await browser.start(room.url);
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.getByRole("navigation").waitFor();
  const found: Record<string, { first: number; median: number }> = {};
  for (const view of VIEWS) {
    const taken: number[] = [];
    for (let n = 0; n < REPEATS; n++) taken.push(await timeOf(page, view));
    const rising = [...taken].sort((a, b) => a - b);
    found[view.name] = { first: Math.round(taken[0] ?? 0), median: Math.round(rising[REPEATS >> 1] ?? 0) };
    process.stderr.write(`${view.name}: ${taken.map((ms) => Math.round(ms)).join(", ")} ms\n`);
  }
  await browser.kill();
  return found;
}

/** From the opening of the window to the plan of today on the screen: after the browser was killed, and after the window was closed. */
async function openingTime(): Promise<{ readonly afterKill: number; readonly afterClosing: number }> {
  const { page } = await browser.start(room.url);
  const afterKill = await planTime(page);
  const context = page.context();
  await page.close();
  const again = await context.newPage();
  await again.goto(room.url);
  const afterClosing = await planTime(again);
  await browser.kill();
  return { afterKill, afterClosing };
}

async function planTime(page: Page): Promise<number> {
  await page.locator(".plan-lines").waitFor();
  return Math.round(await page.evaluate(() => performance.now()));
}

async function readTimes() {
  const { page } = await browser.start(room.storeUrl);
  await page.waitForFunction(() => "storeRoom" in globalThis);
  const filters = {
    all: {},
    "one harp": { harp: "G harp" },
    "harp and technique": { harp: "D harp", technique: "bend" },
    "a title": { title: "arpeggio" },
  };
  const found: Record<string, unknown> = {};
  for (const [name, filter] of Object.entries(filters)) {
    await page.evaluate((one) => storeRoom.readMs(one), filter);
    const {
      page: paged,
      count,
      found: attempts,
    } = await page.evaluate((one) => storeRoom.readMs(one), filter);
    found[name] = { firstPage: Math.round(paged), count: Math.round(count), attempts };
  }
  await browser.kill();
  return found;
}
