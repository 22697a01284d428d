/**
 * What a window that is left open costs while nobody does anything: seconds of processor time of all its processes, in a
 * browser of its own for each room, and how often its page wakes up. All are left open at once.
 *
 * Usage: npm run bench:idle -- [--minutes N, 60]
 */
import { parseArgs } from "node:util";
import type { Browser, Page } from "playwright-core";
import { enterRoom, launchBrowser, openPage, ROOM_KEYS, serveApp } from "../e2e/browser.ts";

const { values } = parseArgs({ options: { minutes: { type: "string", default: "60" } } });
const minutes = Number(values.minutes);
if (!(minutes > 0)) throw new Error("--minutes is a number above 0");
/** What opening, drawing and hearing set off is over by then. */
const SETTLING_MS = 45_000;

interface Room {
  readonly name: string;
  readonly enter: (page: Page) => Promise<void>;
}

const ROOMS: readonly Room[] = [
  { name: "Today", enter: (page) => enterRoom(page, ROOM_KEYS.today) },
  { name: "practice sheet", enter: openSheet },
  { name: "practice sheet, after something was heard", enter: hearSheet },
  { name: "Settings", enter: (page) => enterRoom(page, ROOM_KEYS.settings) },
];

const server = await serveApp();
const windows = await Promise.all(ROOMS.map(opened));
await new Promise((resolve) => setTimeout(resolve, SETTLING_MS));
const before = await Promise.all(windows.map(costOf));
await new Promise((resolve) => setTimeout(resolve, 60_000 * minutes));
const after = await Promise.all(windows.map(costOf));
process.stdout.write(`bench:idle, ${minutes} minutes, windows left open without a touch:\n`);
for (const [place, { room }] of windows.entries()) {
  const [was, is] = [before[place], after[place]];
  if (was === undefined || is === undefined) continue;
  const used = is.seconds - was.seconds;
  process.stdout.write(
    `${room.padEnd(42)} ${used.toFixed(2)} s of processor time, ${((100 * used) / (60 * minutes)).toFixed(3)} % of one core; ` +
      `page's own process ${(is.pageSeconds - was.pageSeconds).toFixed(2)} s; timers and pictures a minute: ${((is.wakes - was.wakes) / minutes).toFixed(1)}\n`,
  );
}
for (const { browser } of windows) await browser.close();
await server.close();

interface Cost {
  /** Of all processes of the browser so far. */
  readonly seconds: number;
  readonly pageSeconds: number;
  /** Calls of timers and of pictures so far. */
  readonly wakes: number;
}

interface Window {
  readonly room: string;
  readonly browser: Browser;
  readonly page: Page;
}

async function opened({ name, enter }: Room): Promise<Window> {
  const browser = await launchBrowser();
  const { page } = await openPage(browser, server.url, { roomKey: null });
  await page.addInitScript(countWakes);
  await page.reload();
  await enter(page);
  return { room: name, browser, page };
}

async function openSheet(page: Page): Promise<void> {
  await enterRoom(page, ROOM_KEYS.drills);
  await page.getByRole("button", { name: "Practise this" }).press("Enter");
  await page.locator(".staff svg").first().waitFor();
}

async function hearSheet(page: Page): Promise<void> {
  await openSheet(page);
  await page.keyboard.press("h");
  await page.getByText("The exercise as it should sound.").waitFor();
  await page.getByText("The microphone is closed.").waitFor({ timeout: 120_000 });
}

async function costOf({ browser, page }: Window): Promise<Cost> {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = await session.send("SystemInfo.getProcessInfo");
  await session.detach();
  const sum = (of: typeof processInfo) => of.reduce((all, { cpuTime }) => all + cpuTime, 0);
  return {
    seconds: sum(processInfo),
    pageSeconds: sum(processInfo.filter(({ type }) => type === "renderer")),
    wakes: await page.evaluate(() => globalThis.wakes),
  };
}

declare global {
  var wakes: number;
}

/** In the page, before anything else: counts what timers and pictures call. */
function countWakes(): void {
  globalThis.wakes = 0;
  const counted = <A extends unknown[]>(call: (...args: A) => void) => {
    return (...args: A) => {
      globalThis.wakes++;
      call(...args);
    };
  };
  const { setTimeout: later, setInterval: again, requestAnimationFrame: draw } = window;
  const wrap = (timer: typeof setTimeout | typeof setInterval) =>
    ((call: () => void, ...rest: []) => timer(counted(call), ...rest)) as typeof setTimeout;
  window.setTimeout = wrap(later.bind(window));
  window.setInterval = wrap(again.bind(window)) as typeof setInterval;
  window.requestAnimationFrame = (call) => draw.call(window, counted(call));
}
