/**
 * How quick the window is, in a real Chromium: from a sound at the microphone to its picture on the screen; the tasks
 * that hold the window's thread while it listens; from opening to the first drill. Prints JSON.
 * Usage: npm run bench:window
 */
import type { Browser, Page } from "playwright-core";
import { launchBrowser, openPage, ROOM_KEYS, serveApp } from "../e2e/browser.ts";
import { tasksWhile } from "./window/main-thread.ts";
import { type Probe, probePage } from "./window/page-probes.ts";

/** At 60 pictures a second. */
const FRAME_MS = 1000 / 60;
/** A picture is late where one was left out. */
const LATE_MS = 1.5 * FRAME_MS;
const LISTEN_MS = 14_000;
const STARTS = 5;

const server = await serveApp();
const browser = await launchBrowser();
const tones = await listening("tones");
const clicks = await listening("clicks");
const starts: number[] = [];
for (let n = 0; n < STARTS; n++) starts.push(await start());
await browser.close();
await server.close();

const { frames } = tones.probe;
process.stdout.write(
  `${JSON.stringify(
    {
      soundToPitchOnScreenMs: delays(tones.probe.onsets, tones.probe.shown),
      impulseToWordsOnScreenMs: delays(clicks.probe.onsets, clicks.probe.clippedShown),
      whileListening: {
        seconds: LISTEN_MS / 1000,
        pictures: frames.length,
        lateShare: share(frames, (ms) => ms > LATE_MS),
        tasks: tones.tasks.length,
        tasksOver16Ms: tones.tasks.filter((ms) => ms > 16).length,
        tasksOver50Ms: tones.tasks.filter((ms) => ms > 50).length,
        longestTaskMs: round(Math.max(0, ...tones.tasks)),
      },
      openingToFirstDrillMs: { median: round(quantile(starts, 0.5)), slowest: round(Math.max(...starts)) },
    },
    null,
    2,
  )}\n`,
);

/** One take under the microphone of the probe. */
async function listening(sound: "tones" | "clicks"): Promise<{ probe: Probe; tasks: readonly number[] }> {
  const { page, context } = await pageWith(browser, sound);
  await page.getByRole("button", { name: "Practise this" }).press("Enter");
  await page.keyboard.press("Space");
  await page.locator(".beat-number").waitFor();
  const tasks = await tasksWhile(browser, () => page.waitForTimeout(LISTEN_MS));
  const probe = await page.evaluate(() => window.probe);
  await context.close();
  return { probe, tasks };
}

async function pageWith(of: Browser, sound: "tones" | "clicks") {
  const opened = await openPage(of, server.url);
  // Again, with the probe in it from the beginning.
  await opened.page.addInitScript(probePage, sound);
  await opened.page.reload();
  await toDrills(opened.page);
  return opened;
}

async function toDrills(page: Page): Promise<void> {
  await page.getByRole("navigation").waitFor();
  await page.keyboard.press(ROOM_KEYS.drills);
  await page.locator(".staff svg").first().waitFor();
}

/** From opening the window for the first time to a drill on the screen, ready to be practised. */
async function start(): Promise<number> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const page = await context.newPage();
  const began = performance.now();
  await page.goto(server.url);
  await toDrills(page);
  const took = performance.now() - began;
  await context.close();
  return took;
}

/** From each sound to the first picture of it, where there is one before the next sound. */
function delays(onsets: readonly number[], shown: readonly number[]) {
  const found = onsets.flatMap((onset) => {
    const first = shown.find((at) => at >= onset);
    return first === undefined || first - onset > 350 ? [] : [first - onset];
  });
  return { sounds: found.length, median: round(quantile(found, 0.5)), p95: round(quantile(found, 0.95)) };
}

function quantile(values: readonly number[], q: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] ?? Number.NaN;
}

function share<T>(values: readonly T[], is: (value: T) => boolean): number {
  return values.length === 0 ? 0 : round(values.filter(is).length / values.length, 4);
}

function round(value: number, digits = 1): number {
  return Number(value.toFixed(digits));
}
