// @ts-check
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { pathToFileURL } from "node:url";
import { buildStale, PROJECT_ROOT } from "./build.mjs";

/**
 * The headless command. Standard output carries the command's own JSON and nothing else, so the build is silent.
 * Ends by itself instead of being ended: on a pipe, what was written may not have left yet.
 */

// A reader such as `head` may leave early; that is its right.
for (const stream of [process.stdout, process.stderr]) {
  stream.on("error", (error) => {
    if (!("code" in error) || error.code !== "EPIPE") throw error;
  });
}

/** @param {unknown} error */
function complain(error) {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
}

async function main() {
  // npm moves to the project's folder; the file names on the command line are meant from where the player stood.
  const { INIT_CWD: standing, npm_lifecycle_event: script } = process.env;
  if (standing && script === "reedpath") process.chdir(standing);
  await buildStale({ modes: ["headless"] });
  const { run } = await import(pathToFileURL(path.join(PROJECT_ROOT, "out", "electron", "headless.js")).href);
  process.exitCode = await run(process.argv.slice(2), {
    stdout: (/** @type {string} */ text) => void process.stdout.write(text),
    stderr: (/** @type {string} */ text) => void process.stderr.write(text),
  });
}

/**
 * How long the process stays after its work. A task of the compiler that is still under way may need the main thread to
 * collect garbage; a main thread that has already begun to end waits for that task, and both wait forever
 * (nodejs/node issue 54918, seen here once in some thousand commands). In this moment the task gets what it needs.
 */
const LAST_MOMENT_MS = 60;

try {
  await main();
} catch (error) {
  complain(error);
  process.exitCode = 1;
}
await pause(LAST_MOMENT_MS);
