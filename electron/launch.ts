import { spawn } from "node:child_process";
import path from "node:path";
import { runInBrowser } from "./browser-mode.ts";
import { canDownloadElectron, downloadElectron, findElectron } from "./electron-binary.ts";
import { openSystemBrowser } from "./system-browser.ts";

const USAGE = 'Usage: npm start, or "npm start -- --browser" to use the browser instead of the window.';

/** A window that ends with an error this soon was never there; 5 s allows for a slow first start. */
const NEVER_OPENED_SECONDS = 5;

/** What the choice between window and browser depends on. */
export interface Surroundings {
  readonly wantsBrowser: boolean;
  readonly platform: NodeJS.Platform;
  readonly env: Readonly<Record<string, string | undefined>>;
  /** Path of Electron's program, or null. */
  readonly electron: string | null;
  /** As in process.versions.node. */
  readonly nodeVersion: string;
}

/** How the program is shown. `why` is half a sentence for the player. */
export type Way =
  | { readonly kind: "window"; readonly electron: string }
  | { readonly kind: "download" }
  | { readonly kind: "browser"; readonly why: string };

/** Only Linux and its relatives can be without a display and say so. */
function hasDisplay(platform: NodeJS.Platform, env: Surroundings["env"]): boolean {
  return platform === "darwin" || platform === "win32" || Boolean(env.DISPLAY || env.WAYLAND_DISPLAY);
}

/** Chooses the window where there can be one, else the browser. */
export function chooseWay(around: Surroundings): Way {
  if (around.wantsBrowser) return { kind: "browser", why: "You asked for the browser" };
  if (!hasDisplay(around.platform, around.env)) return { kind: "browser", why: "There is no display" };
  if (around.electron !== null) return { kind: "window", electron: around.electron };
  if (canDownloadElectron(around.nodeVersion)) return { kind: "download" };
  return {
    kind: "browser",
    why: `Electron's program is not installed and can be fetched only with Node 22.12 or later (this is ${around.nodeVersion})`,
  };
}

function untilStopped(): Promise<void> {
  return new Promise((resolve) => {
    for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) process.once(signal, () => resolve());
  });
}

/**
 * Opens the desktop window and waits until it is closed.
 *
 * @returns null when it ran; half a sentence saying why when it never opened
 */
function runWindow(electron: string, root: string): Promise<string | null> {
  const { ELECTRON_RUN_AS_NODE: _unwanted, ...env } = process.env;
  const startMs = performance.now();
  return new Promise((resolve) => {
    const child = spawn(electron, [root], { stdio: "ignore", env });
    // Ctrl-C reaches the window too; this process waits for it to put everything away.
    process.on("SIGINT", () => {});
    process.once("SIGTERM", () => child.kill());
    child.once("error", () => resolve("Electron's program could not be run"));
    child.once("exit", (code, signal) => {
      const ranSeconds = (performance.now() - startMs) / 1000;
      const failed = code !== 0 && signal !== "SIGINT" && signal !== "SIGTERM";
      const how = code === null ? `signal ${signal}` : `code ${code}`;
      resolve(
        failed && ranSeconds < NEVER_OPENED_SECONDS
          ? `The window could not be opened (Electron: ${how})`
          : null,
      );
    });
  });
}

/** Fetches Electron's program, telling the player why nothing happens meanwhile. */
async function fetchElectron(root: string): Promise<Way> {
  console.log("Fetching Electron's program, once: downloading about 100 MB ...");
  const electron = await downloadElectron(root);
  if (electron !== null) return { kind: "window", electron };
  return { kind: "browser", why: "Electron's program could not be downloaded" };
}

/**
 * Opens the program: the desktop window, or the browser where there can be no window.
 *
 * @param options.argv arguments of `npm start`
 * @param options.root the project's folder, with the built parts in out/
 * @param options.port for tests only: another port is another, empty database
 * @returns exit code: 0 fine, 2 wrong argument or port taken
 */
export async function launch(options: {
  readonly argv: readonly string[];
  readonly root: string;
  readonly port?: number | undefined;
}): Promise<number> {
  const { argv, root, port } = options;
  if (argv.some((argument) => argument !== "--browser")) {
    console.error(USAGE);
    return 2;
  }
  const { platform, env } = process;
  let way = chooseWay({
    wantsBrowser: argv.includes("--browser"),
    platform,
    env,
    electron: findElectron(root),
    nodeVersion: process.versions.node,
  });
  if (way.kind === "download") way = await fetchElectron(root);
  if (way.kind === "window") {
    const why = await runWindow(way.electron, root);
    if (why === null) return 0;
    way = { kind: "browser", why };
  }
  if (way.kind !== "browser") return 0;
  return runInBrowser({
    windowRoot: path.join(root, "out", "renderer"),
    why: way.why,
    ...(port === undefined ? {} : { port }),
    platform,
    // Without a display an opener would start a text browser in this very terminal.
    openBrowser: hasDisplay(platform, env) ? openSystemBrowser : () => {},
    say: (line) => console.log(line),
    complain: (line) => console.error(line),
    untilStopped,
  });
}
