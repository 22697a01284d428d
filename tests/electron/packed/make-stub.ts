import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { createPackage } from "@electron/asar";

/** Marks the place of the fuses inside Electron's program. Source: @electron/fuses 1.8.0, SENTINEL. */
const FUSE_SENTINEL = "dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX";

/**
 * A fuse wire as a fresh Electron has it: sentinel, version 1, number of fuses, one '0' or '1' a fuse.
 * Source: @electron/fuses 1.8.0, README. Every fuse stands opposite to what we want, so that flipping shows.
 */
function fuseWire(): Buffer {
  const opposite = "10110011";
  return Buffer.concat([
    Buffer.from(FUSE_SENTINEL),
    Buffer.from([1, opposite.length]),
    Buffer.from(opposite),
  ]);
}

/**
 * Makes a folder shaped like Electron's own, with nothing in it that could run: enough to pack the program around.
 *
 * @param folder  where; made when missing
 * @param version Electron's version, such as 45.4.1
 */
export async function makeElectronStub(folder: string, version: string): Promise<void> {
  for (const name of ["locales", "resources"]) await mkdir(path.join(folder, name), { recursive: true });
  const empty = await mkdtemp(path.join(os.tmpdir(), "reedpath-empty-"));
  await writeFile(path.join(empty, "package.json"), "{}");
  await createPackage(empty, path.join(folder, "resources", "default_app.asar"));
  await rm(empty, { recursive: true });
  const padding = Buffer.alloc(64);
  await writeFile(path.join(folder, "electron"), Buffer.concat([padding, fuseWire(), padding]), {
    mode: 0o755,
  });
  await writeFile(path.join(folder, "version"), `v${version}`);
  for (const name of ["LICENSE", "LICENSES.chromium.html", path.join("locales", "en-US.pak")]) {
    await writeFile(path.join(folder, name), "stub");
  }
}
