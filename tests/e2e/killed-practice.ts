import { setTimeout as pause } from "node:timers/promises";
import type { Page } from "playwright-core";
import { seededRandom } from "../../core/exercise/seeded-random.ts";
import { KillableBrowser } from "./killable-browser.ts";
import type { Said } from "./store-page/practice-hour.ts";
import type { StoreRoom } from "./store-room.ts";

/** What was found when the browser was opened again after one of its ends. */
export interface AfterKill {
  readonly moment: number;
  /** Attempts that were told to be kept up to now and must be there. */
  readonly acknowledged: number;
  readonly there: number;
  /** Told to be kept, and not there. */
  readonly lost: readonly string[];
  /** Told to be deleted, and still there. */
  readonly risen: readonly string[];
  /** What a full recount found. */
  readonly differences: readonly string[];
  readonly attempts: number;
}

export interface KillSetting {
  readonly seed: number;
  readonly moments: number;
  /** Moments of one practice hour, on one profile; then another begins. */
  readonly aProfile: number;
  /** So many browsers at one time. */
  readonly beside: number;
  readonly onMoment: (after: AfterKill) => void;
}

/** The browser dies so long after the first attempt was kept, at the most. */
const LATEST_MS = 1500;
/** Share of moments before which the browser that only looked is killed as well, while it does nothing. */
const IDLE_ENDS = 0.5;
/** 2026-06-01 at ten in the evening, UTC: the hour goes past midnight. */
const EVENING_MS = 1_780_351_200_000;

/** Kills a browser in which practice goes on at moments that follow from the seed, and looks each time at what it had kept. */
export async function killPractice(room: StoreRoom, setting: KillSetting): Promise<readonly AfterKill[]> {
  const { moments, aProfile, beside } = setting;
  const firsts = Array.from({ length: Math.ceil(moments / aProfile) }, (_, n) => n * aProfile);
  const found: AfterKill[] = [];
  const next = async (): Promise<void> => {
    const from = firsts.shift();
    if (from === undefined) return;
    found.push(...(await killHour(room, setting, from)));
    return next();
  };
  await Promise.all(Array.from({ length: beside }, next));
  return found.sort((one, other) => one.moment - other.moment);
}

/** One practice hour on a profile of its own, killed at each of its moments. */
async function killHour(
  room: StoreRoom,
  { seed, moments, aProfile, onMoment }: KillSetting,
  from: number,
): Promise<readonly AfterKill[]> {
  const random = seededRandom(1000 * seed + from);
  const until = Math.min(moments, from + aProfile);
  const browser = new KillableBrowser();
  const ledger = new Ledger();
  const found: AfterKill[] = [];
  try {
    for (let moment = from; moment <= until; moment++) {
      const { page } = await browser.start(room.storeUrl);
      await ready(page);
      if (moment > from) {
        const after = await lookAgain(page, ledger, moment - 1);
        found.push(after);
        onMoment(after);
      }
      if (moment === until) break;
      const delayMs = LATEST_MS * random();
      const practising = random() < IDLE_ENDS ? await dieIdle(browser, room) : page;
      await practiseAndDie(browser, practising, ledger, { seed: 1000 * seed + moment, delayMs });
    }
  } finally {
    await browser.clearAway();
  }
  return found;
}

/** What the page said before it died. */
class Ledger {
  readonly kept = new Set<string>();
  readonly gone = new Set<string>();
  /** On their way in or out when the browser died: either is right. */
  readonly between = new Set<string>();
  /** When each was told of last, counted from the beginning of the profile. */
  private readonly told = new Map<string, number>();
  saved = 0;
  private heard = 0;

  /** An attempt in words: which one, and how long before the end of what was heard it was told of. */
  named(id: string): string {
    return `${id}, told ${this.heard - (this.told.get(id) ?? 0)} before the last`;
  }

  hear(said: Exclude<Said, { said: "trouble" }>): void {
    this.heard += 1;
    for (const id of "ids" in said ? said.ids : [said.id]) this.told.set(id, this.heard);
    switch (said.said) {
      case "saved":
        this.saved += 1;
        this.kept.add(said.id);
        return;
      case "removing":
      case "restoring":
        for (const id of said.ids) this.between.add(id);
        return;
      case "removed":
        for (const id of said.ids) this.settle(id, this.gone, this.kept);
        return;
      case "restored":
        for (const id of said.ids) this.settle(id, this.kept, this.gone);
        return;
    }
  }

  private settle(id: string, into: Set<string>, outOf: Set<string>): void {
    this.between.delete(id);
    outOf.delete(id);
    into.add(id);
  }

  /** What was between is from now on as it was found. */
  find(there: ReadonlySet<string>): void {
    for (const id of [...this.between]) {
      if (there.has(id)) this.settle(id, this.kept, this.gone);
      else this.settle(id, this.gone, this.kept);
    }
  }
}

/** Ends a browser that does nothing, and opens the next one on what it leaves. */
async function dieIdle(browser: KillableBrowser, room: StoreRoom): Promise<Page> {
  await browser.kill();
  const { page } = await browser.start(room.storeUrl);
  await ready(page);
  return page;
}

async function practiseAndDie(
  browser: KillableBrowser,
  page: Page,
  ledger: Ledger,
  { seed, delayMs }: { readonly seed: number; readonly delayMs: number },
): Promise<void> {
  const before = ledger.saved;
  let trouble: Error | null = null;
  await page.exposeFunction("tell", (said: Said) => {
    if (said.said === "trouble") trouble = new Error(said.words);
    else ledger.hear(said);
  });
  await page.evaluate(([n, at]) => storeRoom.practise(n as number, at as number), [seed, EVENING_MS]);
  while (ledger.saved === before && trouble === null) await pause(5);
  await pause(delayMs);
  await browser.kill();
  if (trouble !== null) throw trouble;
}

async function lookAgain(page: Page, ledger: Ledger, moment: number): Promise<AfterKill> {
  const there = new Set(await page.evaluate(() => storeRoom.ids()));
  const { differences, attempts } = await page.evaluate(() => storeRoom.verify());
  ledger.find(there);
  return {
    moment,
    acknowledged: ledger.kept.size,
    there: there.size,
    lost: [...ledger.kept].filter((id) => !there.has(id)).map((id) => ledger.named(id)),
    risen: [...ledger.gone].filter((id) => there.has(id)).map((id) => ledger.named(id)),
    differences,
    attempts,
  };
}

const ready = (page: Page) =>
  page.waitForFunction(() => "storeRoom" in globalThis, null, { timeout: 60_000 });
