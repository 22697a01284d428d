import { KillableBrowser } from "../../e2e/killable-browser.ts";
import { buildStoreRoom } from "../../e2e/store-room.ts";
import { timeOf } from "../history/view-times.ts";
import { VIEWS } from "../history/views.ts";
import { type Curve, TIMES } from "./curve.ts";

const VISITS = 5;
const A_DAY = 10;

/**
 * A growing history in the database of a real browser, ten attempts a day: how long it takes to put in, and each view from
 * the key or the click to its content on the screen.
 */
export async function historyCurves(base: number, say: (words: string) => void): Promise<readonly Curve[]> {
  const room = await buildStoreRoom();
  const browser = new KillableBrowser();
  const sizes = TIMES.map((times) => base * times);
  const days = Math.ceil((sizes.at(-1) ?? base) / A_DAY);
  const lastEveningMs = new Date().setUTCHours(18, 0, 0, 0) - 86_400_000;
  const seconds = new Map<string, number[]>();
  const add = (work: string, one: number) => seconds.set(work, [...(seconds.get(work) ?? []), one]);
  let from = 0;
  for (const to of sizes) {
    const { page } = await browser.start(room.storeUrl);
    await page.waitForFunction(() => "storeRoom" in globalThis);
    const some = { from, to, total: to, days: Math.ceil((days * to) / (sizes.at(-1) ?? to)), lastEveningMs };
    const filled = await page.evaluate((one) => storeRoom.fill(one), some);
    await page.waitForTimeout(1000);
    await browser.kill();
    add("attempts are kept, those that came to it", filled);
    say(`${to} attempts, filled in ${Math.round(filled)} s`);
    for (const [view, one] of await viewSeconds(browser, room.url)) add(`${view} is shown`, one);
    from = to;
  }
  await browser.clearAway();
  await room.close();
  return [...seconds].map(([work, each]) => ({
    work,
    of: "attempts in the history",
    sizes,
    seconds: each,
    clock: "clock",
  }));
}

/** Median of several visits but for the first, which has the history to read for the first time. */
async function viewSeconds(
  browser: KillableBrowser,
  url: string,
): Promise<readonly (readonly [string, number])[]> {
  const { page } = await browser.start(url);
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.getByRole("navigation").waitFor();
  const found: (readonly [string, number])[] = [];
  for (const view of VIEWS) {
    const taken: number[] = [];
    for (let visit = 0; visit < VISITS; visit++) taken.push(await timeOf(page, view));
    const rising = taken.slice(1).sort((a, b) => a - b);
    found.push([view.name, (rising[rising.length >> 1] ?? Number.NaN) / 1000]);
  }
  await browser.kill();
  return found;
}
