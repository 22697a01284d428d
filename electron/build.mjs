// @ts-check
import { existsSync, realpathSync } from "node:fs";
import { mkdir, readdir, rename, rm, stat, utimes } from "node:fs/promises";
import path from "node:path";
import { fileURLToPath } from "node:url";

/** @typedef {"main" | "preload" | "launch" | "headless" | "renderer"} Mode */

/** The folder that holds package.json. */
export const PROJECT_ROOT = path.dirname(import.meta.dirname);

/** The lock file stands for the packages that go into every part. */
const EVERY_MODE_NEEDS = ["package.json", "package-lock.json", "vite.config.ts"];

/**
 * What each part is made of and the file that stands for it, relative to the project.
 * @type {Readonly<Record<Mode, { readonly sources: readonly string[], readonly output: string }>>}
 */
const PARTS = {
  main: { sources: ["electron", "core"], output: "out/electron/main.js" },
  preload: { sources: ["electron"], output: "out/electron/preload.cjs" },
  launch: { sources: ["electron"], output: "out/electron/launch.js" },
  headless: { sources: ["electron", "core", "assets"], output: "out/electron/headless.js" },
  renderer: { sources: ["electron", "core", "assets", "renderer"], output: "out/renderer/index.html" },
};

/** @type {readonly Mode[]} */
export const MODES = ["main", "preload", "launch", "headless", "renderer"];

/**
 * The newest change in a file or folder. Folders count themselves too, so that a deleted file is noticed.
 * @param {string} place absolute path; may be missing
 * @returns {Promise<number>} milliseconds since 1970; 0 when missing
 */
async function newestChangeMs(place) {
  const found = await stat(place).catch(() => null);
  if (found === null) return 0;
  if (!found.isDirectory()) return found.mtimeMs;
  const names = await readdir(place);
  const inside = await Promise.all(names.map((name) => newestChangeMs(path.join(place, name))));
  return Math.max(found.mtimeMs, ...inside);
}

/**
 * Whether a part has to be built: it is missing, or one of its sources is newer.
 * @param {Mode} mode
 * @param {string} [root]
 * @returns {Promise<boolean>}
 */
export async function isStale(mode, root = PROJECT_ROOT) {
  const { sources, output } = PARTS[mode];
  const built = await stat(path.join(root, output)).catch(() => null);
  if (built === null) return true;
  const changes = [...sources, ...EVERY_MODE_NEEDS].map((place) => newestChangeMs(path.join(root, place)));
  return Math.max(...(await Promise.all(changes))) > built.mtimeMs;
}

/**
 * Puts a finished part in place of the old one. Files are renamed one by one, so that a program started meanwhile
 * reads either the old or the new one; the window's folder is replaced as a whole, so that no old file stays.
 * @param {Mode} mode
 * @param {string} root
 * @param {string} staging folder of the finished part
 */
async function putInPlace(mode, root, staging) {
  const target = path.dirname(path.join(root, PARTS[mode].output));
  if (mode === "renderer") {
    const old = `${staging}-old`;
    if (existsSync(target)) await rename(target, old);
    await rename(staging, target);
    await rm(old, { recursive: true, force: true });
    return;
  }
  await mkdir(target, { recursive: true });
  for (const name of await readdir(staging)) await rename(path.join(staging, name), path.join(target, name));
}

/**
 * Builds one part. A part that fails leaves the one built before as it was.
 * @param {Mode} mode
 * @param {string} root
 */
async function buildPart(mode, root) {
  const started = new Date();
  const out = path.join(root, "out");
  const staging = path.join(out, `.${mode}-${process.pid}`);
  try {
    const { build: viteBuild } = await import("vite");
    await viteBuild({
      configFile: path.join(root, "vite.config.ts"),
      mode,
      logLevel: "silent",
      build: { outDir: staging },
    });
    // The time of the build's start, so that a source saved while it ran still counts as newer.
    await utimes(path.join(staging, path.basename(PARTS[mode].output)), started, started);
    await putInPlace(mode, root, staging);
  } finally {
    await rm(staging, { recursive: true, force: true });
  }
}

/**
 * Turns what went wrong into one plain sentence.
 * @param {Mode} mode
 * @param {unknown} error
 * @returns {Error}
 */
function plainError(mode, error) {
  if (error instanceof Error && "code" in error && error.code === "ERR_MODULE_NOT_FOUND") {
    return new Error('The packages are not installed yet: run "npm ci" first.');
  }
  // biome-ignore lint/suspicious/noControlCharactersInRegex: compilers colour their messages with escape codes
  const text = (error instanceof Error ? error.message : String(error)).replace(/\u001b\[[0-9;]*m/g, "");
  return new Error(`The ${mode} part could not be built: ${text.trim()}`);
}

/**
 * Builds parts one after another.
 *
 * @param {object} [options]
 * @param {readonly Mode[]} [options.modes] all by default
 * @param {string} [options.root]
 * @param {(line: string) => void} [options.say] takes one line a part with its time in seconds; silent by default
 * @returns {Promise<number>} seconds it took altogether
 * @throws {Error} with a plain message naming the part that could not be built
 */
export async function build({ modes = MODES, root = PROJECT_ROOT, say = () => {} } = {}) {
  // A React built for development is slower and says so on the console.
  process.env.NODE_ENV = "production";
  const start = performance.now();
  for (const mode of modes) {
    const partStart = performance.now();
    try {
      await buildPart(mode, root);
    } catch (error) {
      throw plainError(mode, error);
    }
    say(`${mode.padEnd(9)} ${((performance.now() - partStart) / 1000).toFixed(2)} s`);
  }
  return (performance.now() - start) / 1000;
}

/**
 * Builds those of the given parts that are missing or older than their sources.
 *
 * @param {object} options as for build
 * @param {readonly Mode[]} options.modes
 * @param {string} [options.root]
 * @param {(line: string) => void} [options.say]
 * @returns {Promise<number | null>} seconds it took, or null when nothing had to be built
 */
export async function buildStale({ modes, root = PROJECT_ROOT, say }) {
  const stale = await Promise.all(modes.map((mode) => isStale(mode, root)));
  const wanted = modes.filter((_mode, index) => stale[index]);
  if (wanted.length === 0) return null;
  return build({ modes: wanted, root, ...(say && { say }) });
}

if (process.argv[1] !== undefined && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url)) {
  try {
    await build({ say: (line) => console.log(line) });
  } catch (error) {
    console.error(error instanceof Error ? error.message : String(error));
    process.exitCode = 1;
  }
}
