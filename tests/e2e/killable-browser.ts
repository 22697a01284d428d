import { type ChildProcess, spawn } from "node:child_process";
import { closeSync, existsSync, mkdtempSync, openSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { type Browser, chromium, type Page } from "playwright-core";
import { type BrowserOptions, browserFlags, chromiumPath } from "./browser.ts";

/** A browser of its own on one profile, which can be killed outright and started again on what it had kept; its log lies there too. */
export class KillableBrowser {
  private child: ChildProcess | null = null;
  readonly profile = mkdtempSync(path.join(tmpdir(), "reedpath-profile-"));

  /** Of its first process, while it is started. */
  get pid(): number {
    const pid = this.child?.pid;
    if (pid === undefined) throw new Error("the browser is not started");
    return pid;
  }

  /** @param url of the page it opens */
  async start(url: string, options: BrowserOptions = {}): Promise<{ browser: Browser; page: Page }> {
    for (const left of ["SingletonLock", "SingletonCookie", "SingletonSocket", "DevToolsActivePort"]) {
      rmSync(path.join(this.profile, left), { force: true });
    }
    const own = ["--headless", "--remote-debugging-port=0", `--user-data-dir=${this.profile}`];
    // What the engine finds damaged stands in its log only.
    const logging = ["--enable-logging=stderr", "--v=0", "about:blank"];
    const log = openSync(path.join(this.profile, "browser.log"), "a");
    this.child = spawn(chromiumPath ?? "", [...browserFlags(options), ...own, ...logging], {
      stdio: ["ignore", "ignore", log],
    });
    closeSync(log);
    const portFile = path.join(this.profile, "DevToolsActivePort");
    for (let tries = 0; !existsSync(portFile) && tries < 300; tries++) await pause(100);
    await pause(200);
    const [port] = readFileSync(portFile, "utf8").split("\n");
    const browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`);
    const context = browser.contexts()[0] ?? (await browser.newContext());
    const page = await context.newPage();
    await page.goto(url);
    return { browser, page };
  }

  /** The power of the browser's process ends; nothing is told. */
  async kill(): Promise<void> {
    const { child } = this;
    if (child === null) return;
    const ended = new Promise((resolve) => child.once("exit", resolve));
    child.kill("SIGKILL");
    await ended;
    this.child = null;
  }

  /** Ends it, and what it kept. Its processes may go on writing for a moment; what they leave in the end is the system's to clear. */
  async clearAway(): Promise<void> {
    await this.kill();
    for (let tries = 0; tries < 20 && existsSync(this.profile); tries++) {
      try {
        rmSync(this.profile, { recursive: true, force: true });
      } catch {
        await pause(250);
      }
    }
  }
}
