import { setTimeout as pause } from "node:timers/promises";
import type { Page } from "playwright-core";
import { seededRandom } from "../../core/exercise/seeded-random.ts";
import { EARLIER_VERSIONS, textOfVersion } from "../support/kept-database.ts";
import { KillableBrowser } from "./killable-browser.ts";
import { SoakLedger } from "./soak-ledger.ts";
import type { Said } from "./store-page/practice-hour.ts";
import type { StoreRoom } from "./store-room.ts";
import { tearLog, type Which } from "./torn-log.ts";

/** In the middle of what the browser was killed. */
export type Moment = "practice" | "bringing in" | "upgrade";

/** What was found when the browser was opened again after one of its ends. */
export interface AfterKill {
  readonly profile: number;
  /** The browser's own, kept where something went wrong. */
  readonly folder: string;
  readonly during: Moment;
  /** Attempts that were told to be kept up to now and must be there; running takes with a piece on the disk. */
  readonly kept: number;
  readonly running: number;
  readonly there: number;
  readonly attempts: number;
  /** Of which databases the log was left as by a browser that dies in the middle of writing. */
  readonly torn: readonly Which[];
  /** Whether the browser died once more while the program was opened. */
  readonly diedOpening: boolean;
  /** The browser had thrown the history away: attempts that came back out of the second copy; null where it had not. */
  readonly broughtBack: number | null;
  /** Told to be kept, and not there. */
  readonly lost: readonly string[];
  /** Told to be gone, or never told of, and there. */
  readonly risen: readonly string[];
  /** Takes that are not, to the bit, what was played. */
  readonly changed: readonly string[];
  /** What a full recount found. */
  readonly differences: readonly string[];
}

/** Kills on one profile; then another begins. */
export const KILLS_A_PROFILE = 10;

/** The browser dies so long after something was on the disk, at the most. */
const LATEST_MS = 900;
/** The same while an archive comes in. */
const LATEST_BRINGING_MS = 4000;
/** The same after the database began to be opened, an older one to be brought up to this version. */
const LATEST_UPGRADE_MS = 1200;
/** Share of moments before which the browser that only looked is killed as well, while it does nothing. */
const IDLE_ENDS = 0.25;
/** Share of kills after which logs are left torn. */
const TORN = 0.4;
/** Share of those after which the browser dies once more while it is opened, so soon at the latest, and how many kills lie between. */
const TORN_AGAIN = 0.5;
const LATEST_OPENING_MS = 600;
const KILLS_BETWEEN = 3;
/** 2026-06-01 at ten in the evening, UTC: the hour goes past midnight. */
const EVENING_MS = 1_780_351_200_000;
/** Brought in at once: more than one transaction's worth. */
const BROUGHT_AT_ONCE = 230;
/** Each attempt of an old database without sums stands in it so often. */
const OLD_COPIES = 100;

/** One profile, killed ten times; what happens on it follows from seed and number. The first of its kills may be in an upgrade. */
export async function soakProfile(
  room: StoreRoom,
  { seed, profile }: { readonly seed: number; readonly profile: number },
  onKill: (after: AfterKill) => void,
): Promise<readonly AfterKill[]> {
  const random = seededRandom(1000 * seed + profile);
  const browser = new KillableBrowser();
  const ledger = new SoakLedger();
  const found: AfterKill[] = [];
  let { page } = await browser.start(room.storeUrl);
  let lastOpening = -KILLS_BETWEEN;
  try {
    await ready(page);
    for (let kill = 0; kill < KILLS_A_PROFILE; kill++) {
      const during = whatNext(kill, profile, random);
      if (during !== "upgrade" && random() < IDLE_ENDS) page = await killAndOpen(browser, room);
      const own = 1_000_000 * seed + 100 * profile + kill;
      await doAndDie(browser, page, ledger, { during, profile, kill, own, random });
      const torn = random() < TORN ? tornLogs(browser, random) : [];
      // Of what an earlier version kept there is no second copy before it was opened once.
      const mayDie = during !== "upgrade" && torn.length > 0 && kill >= lastOpening + KILLS_BETWEEN;
      const diedOpening = mayDie && random() < TORN_AGAIN;
      if (diedOpening) {
        lastOpening = kill;
        await openAndDie(browser, room, random);
      }
      page = (await startAgain(browser, room)).page;
      const looked = await page.evaluate(() => storeRoom.lookAtAll());
      const { kept, running } = ledger;
      const compared = ledger.compare(looked);
      const { differences, attempts, ids, wasMade, broughtBack } = looked;
      const after = {
        profile,
        folder: browser.profile,
        during,
        kept,
        running,
        there: ids.length,
        attempts,
        torn,
        diedOpening,
        broughtBack: wasMade ? broughtBack : null,
        differences,
        ...compared,
      };
      found.push(after);
      onKill(after);
    }
  } finally {
    // What went wrong is there to be looked at.
    if (found.every(isWhole)) await browser.clearAway();
    else await browser.kill();
  }
  return found;
}

const isWhole = ({ lost, risen, changed, differences }: AfterKill): boolean =>
  lost.length + risen.length + changed.length + differences.length === 0;

/** Every other profile begins with what an earlier version kept; an archive comes in once on each. */
function whatNext(kill: number, profile: number, random: () => number): Moment {
  if (kill === 0 && profile % 2 === 0) return "upgrade";
  return kill === KILLS_A_PROFILE - 1 || random() < 0.06 ? "bringing in" : "practice";
}

function tornLogs(browser: KillableBrowser, random: () => number): readonly Which[] {
  const chance = random();
  const which: readonly Which[] =
    chance < 0.4 ? ["history"] : chance < 0.6 ? ["second copy"] : ["history", "second copy"];
  return which.filter((one) => tearLog(browser.profile, one));
}

async function openAndDie(browser: KillableBrowser, room: StoreRoom, random: () => number): Promise<void> {
  const { page } = await startAgain(browser, room);
  await page.evaluate(() => storeRoom.beginToOpen());
  await pause(LATEST_OPENING_MS * random());
  await browser.kill();
}

interface Doing {
  readonly during: Moment;
  readonly profile: number;
  readonly kill: number;
  /** Seed of this moment alone. */
  readonly own: number;
  readonly random: () => number;
}

async function doAndDie(
  browser: KillableBrowser,
  page: Page,
  ledger: SoakLedger,
  { during, profile, kill, own, random }: Doing,
): Promise<void> {
  let trouble: Error | null = null;
  // What is said by a browser that was killed already is of no account.
  await page.exposeFunction("tell", (said: Said) => {
    if (said.said === "trouble") trouble = new Error(said.words);
    else ledger.hear(said);
  });
  const before = ledger.done;
  switch (during) {
    case "upgrade": {
      const schema = EARLIER_VERSIONS[(profile / 2) % EARLIER_VERSIONS.length] ?? 1;
      const put = await page.evaluate(([text, copies]) => storeRoom.putOld(text, copies), [
        textOfVersion(schema),
        OLD_COPIES,
      ] as const);
      ledger.stands(put.ids, new Map(put.takePrints));
      await page.evaluate(() => storeRoom.beginToOpen());
      await pause(LATEST_UPGRADE_MS * random());
      break;
    }
    case "bringing in": {
      const from = BROUGHT_AT_ONCE * kill;
      const some = { from, to: from + BROUGHT_AT_ONCE, total: 5000, days: 50, lastEveningMs: EVENING_MS };
      await page.evaluate((which) => storeRoom.bringIn(which), some);
      await pause(LATEST_BRINGING_MS * random());
      break;
    }
    case "practice":
      await page.evaluate(([n, at]) => storeRoom.practise(n, at), [own, EVENING_MS] as const);
      while (ledger.done === before && trouble === null) await pause(5);
      await pause(LATEST_MS * random());
  }
  await browser.kill();
  if (trouble !== null) throw trouble;
}

async function startAgain(browser: KillableBrowser, room: StoreRoom): Promise<{ readonly page: Page }> {
  const { page } = await browser.start(room.storeUrl);
  await ready(page);
  return { page };
}

/** Ends a browser that does nothing, and opens the next one on what it leaves. */
async function killAndOpen(browser: KillableBrowser, room: StoreRoom): Promise<Page> {
  await browser.kill();
  return (await startAgain(browser, room)).page;
}

const ready = (page: Page) =>
  page.waitForFunction(() => "storeRoom" in globalThis, null, { timeout: 60_000 });
