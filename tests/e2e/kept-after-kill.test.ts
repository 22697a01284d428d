import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import type { LoopbackServer } from "../../electron/loopback-server.ts";
import { exerciseOf } from "../support/drills.ts";
import { browserFlags, chromiumPath, enterRoom, ROOM_KEYS, serveApp, whyNoBrowser } from "./browser.ts";
import { keptAttempts } from "./kept.ts";
import { microphoneTake, runMs } from "./takes.ts";

const exercise = exerciseOf();
let server: LoopbackServer;
let child: ChildProcess | null = null;
const profile = mkdtempSync(path.join(tmpdir(), "reedpath-profile-"));

beforeAll(async () => {
  if (chromiumPath !== null) server = await serveApp();
});
afterEach(() => void child?.kill("SIGKILL"));
afterAll(async () => {
  await server?.close();
  await clearAway(profile);
});

/** Processes of the killed browser may still be writing for a moment; what they leave in the end is the system's to clear. */
async function clearAway(folder: string): Promise<void> {
  for (let tries = 0; tries < 20 && existsSync(folder); tries++) {
    try {
      rmSync(folder, { recursive: true, force: true });
    } catch {
      await pause(250);
    }
  }
}

/** A browser of its own, on the one profile, that can be killed outright. */
async function startBrowser(wavPath?: string): Promise<{ browser: Browser; page: Page }> {
  for (const left of ["SingletonLock", "SingletonCookie", "SingletonSocket", "DevToolsActivePort"]) {
    rmSync(path.join(profile, left), { force: true });
  }
  const flags = browserFlags(wavPath === undefined ? {} : { wavPath });
  const own = ["--headless", "--remote-debugging-port=0", `--user-data-dir=${profile}`, "about:blank"];
  child = spawn(chromiumPath ?? "", [...flags, ...own], { stdio: "ignore" });
  const portFile = path.join(profile, "DevToolsActivePort");
  for (let tries = 0; !existsSync(portFile) && tries < 300; tries++) await pause(100);
  await pause(200);
  const [port] = readFileSync(portFile, "utf8").split("\n");
  const browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`);
  const context = browser.contexts()[0] ?? (await browser.newContext());
  const page = await context.newPage();
  await page.goto(server.url);
  await enterRoom(page, ROOM_KEYS.drills);
  await page.getByRole("button", { name: "Practise this" }).waitFor();
  return { browser, page };
}

/** The power of the browser's process ends; nothing is told. */
async function kill(): Promise<void> {
  const ended = new Promise((resolve) => child?.once("exit", resolve));
  child?.kill("SIGKILL");
  await ended;
  child = null;
}

describe.skipIf(chromiumPath === null)(`a browser killed right after the marks appear${whyNoBrowser}`, () => {
  test("has the attempt, its marks and its take when it is opened again", async () => {
    const take = microphoneTake(exercise, 61, true);
    const first = await startBrowser(take.wavPath);
    await first.page.keyboard.press("Enter");
    await first.page.keyboard.press("Space");
    // The page itself reads the sentence in the very frame it appears in; then the browser dies.
    const marked = await first.page
      .waitForFunction(
        () =>
          /\d+ of \d+ notes right.*/.exec(document.querySelector(".one-sentence")?.textContent ?? "")?.[0],
        null,
        {
          timeout: runMs(exercise),
        },
      )
      .then((found) => found.jsonValue());
    await kill();

    const again = await startBrowser();
    await again.page.getByRole("button", { name: "Progress" }).click();
    await again.page.getByRole("button", { name: "Attempts", exact: true }).click();
    await again.page.getByRole("button", { name: exercise.title, exact: true }).click();
    await again.page.getByText(String(marked)).waitFor();
    const [entry] = await keptAttempts(again.page);
    expect(entry?.attempt.marks).toHaveLength(exercise.notes.length);
    // [calc] count-in and fifteen beats at 90 a minute: 12.7 s of sound and more
    expect(entry?.takeSamples).toBeGreaterThan(12 * 44_100);
    expect(entry?.peak).toBeGreaterThan(0.05);
    await kill();
  });
});
