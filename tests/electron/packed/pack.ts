import { spawnSync } from "node:child_process";
import { cp, mkdir, readFile, writeFile } from "node:fs/promises";
import path from "node:path";
import { build, PROJECT_ROOT } from "../../../electron/build.mjs";
import { copyShell, type ProjectCopy } from "../project-copy.ts";
import { plainEnvironment } from "../run-program.ts";
import { makeElectronStub, type System } from "./make-stub.ts";

/** Things that lie about in a project and must not travel. */
const STRAYS = [
  "core/secret.ts",
  "tests/electron/secret.test.ts",
  "assets/icons/secret.svg",
  "out/electron/main.js.map",
  "out/renderer/assets/page.js.map",
  "out/.renderer-1/half.js",
  ".env",
  "notes.txt",
];

/** The whole program, sources and all, in a folder of its own, built, with things lying about. */
export async function programToPack(): Promise<ProjectCopy> {
  const project = await copyShell();
  for (const name of ["assets", "renderer", "LICENSE", "electron/headless.ts"])
    await cp(path.join(PROJECT_ROOT, name), path.join(project.root, name), { recursive: true, force: true });
  await build({ root: project.root, modes: ["main", "preload", "launch", "renderer"] });
  for (const stray of STRAYS) {
    const file = path.join(project.root, stray);
    await mkdir(path.dirname(file), { recursive: true });
    await writeFile(file, "stray");
  }
  return project;
}

/** Where a packed program of each system has its parts, under dist. */
export const PLACES = {
  linux: {
    resources: "linux-unpacked/resources",
    program: "linux-unpacked/reedpath",
    licences: "linux-unpacked",
  },
  mac: {
    resources: "mac/Reedpath.app/Contents/Resources",
    program: "mac/Reedpath.app",
    licences: "mac",
  },
  win: {
    resources: "win-unpacked/resources",
    program: "win-unpacked/Reedpath.exe",
    licences: "win-unpacked",
  },
} as const satisfies Record<System, object>;

/** Where there is dpkg-deb, a Debian package is really made; a stand-in calls it. */
export const canMakeDebianPackages = spawnSync("dpkg-deb", ["--version"]).status === 0;

/** Packs the program for a system around a stub of Electron, by the very configuration of a release. */
export async function pack({ root }: ProjectCopy, system: System): Promise<void> {
  const { version } = JSON.parse(
    await readFile(path.join(PROJECT_ROOT, "node_modules", "electron", "package.json"), "utf8"),
  ) as { version: string };
  await makeElectronStub(path.join(root, `stub-${system}`), system, version);
  // Only this file names the stub, so that nothing that is released can be packed around it.
  const config = {
    extends: "electron/packaging/electron-builder.yml",
    electronDist: `stub-${system}`,
    electronVersion: version,
    // There is nobody here to sign it.
    ...(system === "mac" ? { mac: { identity: null } } : {}),
  };
  await writeFile(path.join(root, `${system}.json`), JSON.stringify(config));
  const builder = path.join(root, "node_modules", "electron-builder", "cli.js");
  // The Debian package comes with the plain folder it is made of.
  const target = system === "linux" && canMakeDebianPackages ? "deb" : "dir";
  const args = [builder, `--${system}`, target, "--x64", "--publish", "never", "--config", `${system}.json`];
  const env = plainEnvironment({ CUSTOM_FPM_PATH: path.join(import.meta.dirname, "fpm-stand-in.mjs") });
  const run = spawnSync(process.execPath, args, { cwd: root, env, encoding: "utf8" });
  if (run.status !== 0) throw new Error(`packing for ${system} failed: ${run.stdout}${run.stderr}`);
}
