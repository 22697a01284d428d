import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";

/** Whether a program is on the PATH. Tests that need one skip by name where it is missing. */
export function hasTool(name: string): boolean {
  return spawnSync("sh", ["-c", `command -v "$1"`, "sh", name]).status === 0;
}

/**
 * The General MIDI SoundFont of the Debian package fluid-soundfont-gm, where that package put it.
 *
 * @returns null where the package or dpkg is missing
 */
export function soundFontPath(): string | null {
  const listing = spawnSync("dpkg", ["-L", "fluid-soundfont-gm"], { encoding: "utf8" });
  if (listing.status !== 0) return null;
  const path = listing.stdout.split("\n").find((line) => /FluidR3_GM\.sf2$/.test(line));
  return path !== undefined && existsSync(path) ? path : null;
}
