import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import path from "node:path";
import axe from "axe-core";
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";
import { type LoopbackServer, serve } from "../../electron/loopback-server.ts";
import { netLogFlag } from "./net-log.ts";

const ROOT = path.join(import.meta.dirname, "..", "..");

/** Path of Debian's Chromium, or null where there is none. */
export const chromiumPath: string | null = (() => {
  const found = spawnSync("which", ["chromium"], { encoding: "utf8" }).stdout?.trim();
  return found ? found : null;
})();

export const whyNoBrowser = chromiumPath === null ? " (skipped: chromium is not installed)" : "";

/** The built window, behind the very server of the browser mode. */
export async function serveApp(): Promise<LoopbackServer> {
  const root = path.join(ROOT, "out", "renderer");
  if (!existsSync(path.join(root, "index.html"))) throw new Error("the window is not built: npm run build");
  return serve({ root, port: 0 });
}

export interface BrowserOptions {
  /** What the fake microphone hears, from the moment it is opened; silence without. */
  readonly wavPath?: string;
  /** Answer to the microphone question. */
  readonly allowMicrophone?: boolean;
  /** Where the browser writes down what it asks of the network. */
  readonly netLogPath?: string;
}

/** Flags for a browser that asks nobody and calls nobody. */
export function browserFlags({ wavPath, allowMicrophone = true, netLogPath }: BrowserOptions): string[] {
  if (wavPath !== undefined && !existsSync(wavPath)) throw new Error(`no such recording: ${wavPath}`);
  return [
    "--no-sandbox",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--autoplay-policy=no-user-gesture-required",
    "--use-fake-device-for-media-stream",
    allowMicrophone ? "--use-fake-ui-for-media-stream" : "--deny-permission-prompts",
    ...(netLogPath === undefined ? [] : [netLogFlag(netLogPath)]),
    ...(wavPath === undefined ? [] : [`--use-file-for-fake-audio-capture=${wavPath}%noloop`]),
  ];
}

export async function launchBrowser(options: BrowserOptions = {}): Promise<Browser> {
  if (chromiumPath === null) throw new Error("chromium is not installed");
  return chromium.launch({ executablePath: chromiumPath, args: browserFlags(options) });
}

/** A page that remembers everything it should not have done. */
export interface WatchedPage {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Console errors and warnings, uncaught errors, and requests that left the origin. */
  readonly complaints: string[];
}

export interface PageOptions {
  readonly viewport?: { readonly width: number; readonly height: number };
  readonly colorScheme?: "light" | "dark";
  /** Key of the room to begin in; the drills without, none for a page that has no rooms. */
  readonly roomKey?: string | null;
  /** Done to the page before it is opened. */
  readonly before?: (page: Page) => Promise<void>;
}

export async function openPage(
  browser: Browser,
  url: string,
  options: PageOptions = {},
): Promise<WatchedPage> {
  const context = await browser.newContext({
    viewport: options.viewport ?? { width: 1280, height: 800 },
    colorScheme: options.colorScheme ?? "light",
    reducedMotion: "reduce",
  });
  const page = await context.newPage();
  const complaints: string[] = [];
  const { origin } = new URL(url);
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning")
      complaints.push(`console: ${message.text()}`);
  });
  page.on("pageerror", (error) => complaints.push(`uncaught: ${error.message}`));
  page.on("request", (request) => {
    const to = new URL(request.url());
    if (to.protocol !== "data:" && to.protocol !== "blob:" && to.origin !== origin)
      complaints.push(`request: ${request.url()}`);
  });
  await options.before?.(page);
  await page.goto(url);
  const { roomKey = ROOM_KEYS.drills } = options;
  if (roomKey !== null) await enterRoom(page, roomKey);
  return { page, context, complaints };
}

/** The keys of the rooms, until a player changes them. */
export const ROOM_KEYS = {
  today: "1",
  drills: "2",
  tunes: "3",
  instrument: "4",
  progress: "5",
  soundCheck: "6",
  settings: "7",
  workshop: "8",
} as const;

/** Goes to a room as a player does, by its key. */
export async function enterRoom(page: Page, key: string): Promise<void> {
  const here = page.locator(`nav [aria-current="page"][aria-keyshortcuts="${key}"]`);
  await page.getByRole("navigation", { name: "Rooms" }).waitFor();
  // The keys begin to be heard a moment after the first picture.
  for (let tries = 0; tries < 10 && (await here.count()) === 0; tries++) {
    await page.keyboard.press(key);
    await here.waitFor({ timeout: 3000 }).catch(() => {});
  }
}

/**
 * What axe finds wrong with the page as it is now: each rule, and where. It is run in the page itself: gathered from many frames
 * it takes four times as long, and the program has one frame only.
 * @param rules these alone; all without
 * @throws where the page has frames, which axe would not see
 */
export async function axeViolations(page: Page, rules?: string[]): Promise<string[]> {
  if (page.frames().length > 1) throw new Error("axe looks at one frame only");
  if (!(await page.evaluate(() => "axe" in globalThis))) await page.evaluate(axe.source);
  return page.evaluate(async (asked) => {
    const { axe: there } = globalThis as unknown as { axe: typeof axe };
    const result = await there.run(document, {
      resultTypes: ["violations"],
      ...(asked === undefined ? {} : { runOnly: { type: "rule", values: asked } }),
    });
    return result.violations.map(
      (one) => `${one.id}: ${one.nodes.map((node) => node.target.join(" ")).join("; ")}`,
    );
  }, rules);
}
