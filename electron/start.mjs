// @ts-check
import { realpathSync } from "node:fs";
import path from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { buildStale, PROJECT_ROOT } from "./build.mjs";

/**
 * Builds what is out of date and opens the program.
 *
 * @param {object} options
 * @param {readonly string[]} options.argv arguments after the script's name
 * @param {string} [options.root]
 * @param {number} [options.port] for tests only: another port is another, empty database
 * @returns {Promise<number>} exit code
 */
export async function start({ argv, root = PROJECT_ROOT, port }) {
  try {
    const modes = /** @type {const} */ (["main", "preload", "launch", "renderer"]);
    const seconds = await buildStale({ modes, root });
    if (seconds !== null) console.log(`Built in ${seconds.toFixed(1)} s.`);
    const { launch } = await import(pathToFileURL(path.join(root, "out", "electron", "launch.js")).href);
    return await launch({ argv, root, port });
  } catch (error) {
    console.error(error instanceof Error ? error.message : String(error));
    return 1;
  }
}

if (process.argv[1] !== undefined && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url)) {
  process.exitCode = await start({ argv: process.argv.slice(2) });
}
