import { chmod, mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import os from "node:os";
import path from "node:path";
import { createPackage } from "@electron/asar";
import { fuseNames } from "../fuses.ts";

/** Marks the place of the fuses inside Electron's program. Source: @electron/fuses 1.8.0, SENTINEL. */
const FUSE_SENTINEL = "dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX";

/**
 * A fuse wire as a fresh Electron has it: sentinel, version 1, number of fuses, one '0' or '1' a fuse.
 * Source: @electron/fuses 1.8.0, README. Every fuse stands opposite to what we want, so that flipping shows.
 */
function fuseWire(): Buffer {
  const opposite = "10110011";
  if (opposite.length !== fuseNames().length) throw new Error("the stub knows fewer fuses than the package");
  return Buffer.concat([
    Buffer.alloc(64),
    Buffer.from(FUSE_SENTINEL),
    Buffer.from([1, opposite.length]),
    Buffer.from(opposite),
    Buffer.alloc(64),
  ]);
}

async function put(file: string, content: string | Buffer, isProgram = false): Promise<void> {
  await mkdir(path.dirname(file), { recursive: true });
  await writeFile(file, content);
  if (isProgram) await chmod(file, 0o755);
}

/** What lies beside Electron's program on every system. */
async function putCommon(folder: string, resources: string, version: string): Promise<void> {
  const empty = await mkdtemp(path.join(os.tmpdir(), "reedpath-empty-"));
  await writeFile(path.join(empty, "package.json"), "{}");
  await mkdir(resources, { recursive: true });
  await createPackage(empty, path.join(resources, "default_app.asar"));
  await rm(empty, { recursive: true });
  await put(path.join(folder, "version"), `v${version}`);
  for (const name of ["LICENSE", "LICENSES.chromium.html"]) await put(path.join(folder, name), "stub");
}

/** A property list with the few entries the packing tool reads. Source: Apple, Information Property List. */
const plist = (name: string) => `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE plist PUBLIC "-//Apple//DTD PLIST 1.0//EN" "http://www.apple.com/DTDs/PropertyList-1.0.dtd">
<plist version="1.0"><dict>
<key>CFBundleExecutable</key><string>${name}</string>
<key>CFBundleIdentifier</key><string>com.example.stub</string>
<key>CFBundleName</key><string>${name}</string>
<key>CFBundlePackageType</key><string>APPL</string>
</dict></plist>`;

async function makeMac(folder: string): Promise<string> {
  const contents = path.join(folder, "Electron.app", "Contents");
  const framework = path.join(contents, "Frameworks", "Electron Framework.framework");
  await put(path.join(contents, "Info.plist"), plist("Electron"));
  await put(path.join(contents, "MacOS", "Electron"), "stub", true);
  await put(path.join(framework, "Electron Framework"), fuseWire(), true);
  for (const kind of ["", " (Renderer)", " (GPU)", " (Plugin)"]) {
    const name = `Electron Helper${kind}`;
    const helper = path.join(contents, "Frameworks", `${name}.app`, "Contents");
    await put(path.join(helper, "Info.plist"), plist(name));
    await put(path.join(helper, "MacOS", name), "stub", true);
  }
  return path.join(contents, "Resources");
}

/** The smallest program Windows would know as one, with a version in it, as the packing tool writes beside that. */
function windowsProgram(): Buffer {
  // The packing tool's own packages for such files.
  const builder = createRequire(
    createRequire(import.meta.resolve("electron-builder")).resolve("app-builder-lib"),
  );
  const { NtExecutable, NtExecutableResource, Resource } = builder("resedit");
  const program = NtExecutable.createEmpty(false, false);
  const resources = NtExecutableResource.from(program);
  const about = Resource.VersionInfo.createEmpty();
  about.setStringValues({ lang: 1033, codepage: 1200 }, { ProductName: "Electron" });
  about.outputToResourceEntries(resources.entries);
  resources.outputResource(program);
  return Buffer.concat([Buffer.from(program.generate()), fuseWire()]);
}

export type System = "linux" | "mac" | "win";

/**
 * Makes a folder shaped like Electron's own, with nothing in it that could run: enough to pack the program around.
 *
 * @param folder  where; made when missing
 * @param version Electron's version, such as 45.4.1
 */
export async function makeElectronStub(folder: string, system: System, version: string): Promise<void> {
  if (system === "mac") return putCommon(folder, await makeMac(folder), version);
  await putCommon(folder, path.join(folder, "resources"), version);
  await put(path.join(folder, "locales", "en-US.pak"), "stub");
  if (system === "linux") await put(path.join(folder, "electron"), fuseWire(), true);
  else await put(path.join(folder, "electron.exe"), windowsProgram(), true);
}
