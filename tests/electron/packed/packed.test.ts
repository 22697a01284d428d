import { spawnSync } from "node:child_process";
import { cp, mkdir, readFile, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import path from "node:path";
import { extractFile, listPackage } from "@electron/asar";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { build, PROJECT_ROOT } from "../../../electron/build.mjs";
import { copyShell, type ProjectCopy } from "../project-copy.ts";
import { plainEnvironment } from "../run-program.ts";
import { makeElectronStub } from "./make-stub.ts";

let project: ProjectCopy;
let asar = "";
const at = (...parts: string[]) => path.join(project.root, ...parts);

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

async function pack(): Promise<void> {
  const { version } = JSON.parse(
    await readFile(path.join(PROJECT_ROOT, "node_modules", "electron", "package.json"), "utf8"),
  ) as { version: string };
  await makeElectronStub(at("stub"), version);
  // Only this file names the stub, so that nothing that is released can be packed around it.
  const config = {
    extends: "electron/packaging/electron-builder.yml",
    electronDist: "stub",
    electronVersion: version,
  };
  await writeFile(at("stub-builder.json"), JSON.stringify(config));
  const builder = at("node_modules", "electron-builder", "cli.js");
  const args = [builder, "--linux", "dir", "--publish", "never", "--config", "stub-builder.json"];
  const run = spawnSync(process.execPath, args, {
    cwd: project.root,
    env: plainEnvironment(),
    encoding: "utf8",
  });
  if (run.status !== 0) throw new Error(`packing failed: ${run.stdout}${run.stderr}`);
}

beforeAll(async () => {
  project = await copyShell();
  await cp(path.join(PROJECT_ROOT, "assets", "icons"), at("assets", "icons"), { recursive: true });
  await build({ root: project.root });
  for (const stray of STRAYS) {
    await mkdir(path.dirname(at(stray)), { recursive: true });
    await writeFile(at(stray), "stray");
  }
  await pack();
  asar = at("dist", "linux-unpacked", "resources", "app.asar");
}, 120_000);
afterAll(() => project.remove());

describe("the packed program (around a stub: no Electron here)", () => {
  test("holds the built window, the main and the preload script, and nothing else", () => {
    const files = listPackage(asar, { isPack: false }).map((name) => name.replaceAll("\\", "/"));
    const pages = files.filter((name) => /^\/out\/renderer\/assets\/.+\.js$/.test(name));
    expect(pages).toHaveLength(3); // page, worker and worklet of the copy
    expect(files.filter((name) => !pages.includes(name)).sort()).toEqual([
      "/out",
      "/out/electron",
      "/out/electron/main.js",
      "/out/electron/preload.cjs",
      "/out/renderer",
      "/out/renderer/assets",
      "/out/renderer/index.html",
      "/out/renderer/third-party-licences.txt",
      "/package.json",
    ]);
  });

  test("its package.json starts the main script and tells nothing of how it was made", () => {
    const packed: unknown = JSON.parse(extractFile(asar, "package.json").toString());
    expect(packed).toMatchObject({ name: "reedpath", productName: "Reedpath", main: "out/electron/main.js" });
    expect(packed).not.toHaveProperty("scripts");
    expect(packed).not.toHaveProperty("devDependencies");
    expect(packed).not.toHaveProperty("build");
  });

  test("no file of it knows the machine it was packed on", () => {
    for (const name of ["package.json", "out/electron/main.js", "out/electron/preload.cjs"]) {
      const text = extractFile(asar, name).toString();
      expect(text.includes(project.root), name).toBe(false);
      expect(text.includes(PROJECT_ROOT), name).toBe(false);
    }
  });

  test("the fuses are set, every one against what the stub had", async () => {
    const builder = createRequire(import.meta.resolve("electron-builder"));
    const { getCurrentFuseWire, FuseV1Options } = builder(
      "@electron/fuses",
    ) as typeof import("@electron/fuses");
    const wire = await getCurrentFuseWire(at("dist", "linux-unpacked", "reedpath"));
    const on = "1".charCodeAt(0);
    const off = "0".charCodeAt(0);
    expect(wire).toMatchObject({
      [FuseV1Options.RunAsNode]: off,
      [FuseV1Options.EnableCookieEncryption]: on,
      [FuseV1Options.EnableNodeOptionsEnvironmentVariable]: off,
      [FuseV1Options.EnableNodeCliInspectArguments]: off,
      [FuseV1Options.EnableEmbeddedAsarIntegrityValidation]: on,
      [FuseV1Options.OnlyLoadAppFromAsar]: on,
      [FuseV1Options.GrantFileProtocolExtraPrivileges]: off,
    });
  });
});

describe("what only the installers use", () => {
  test("macOS is told why the microphone is wanted, and the hardened runtime lets it through", async () => {
    const config = await readFile(at("electron", "packaging", "electron-builder.yml"), "utf8");
    expect(config).toMatch(
      /^ {4}NSMicrophoneUsageDescription: Reedpath listens .+ stays on this computer\.$/m,
    );
    expect(config).toMatch(/^ {2}hardenedRuntime: true$/m);
    const entitlements = await readFile(at("electron", "packaging", "entitlements.mac.plist"), "utf8");
    const granted = [...entitlements.matchAll(/<key>(.+?)<\/key>\s*<true\/>/g)].map((match) => match[1]);
    expect(granted).toEqual(["com.apple.security.cs.allow-jit", "com.apple.security.device.audio-input"]);
  });

  test("no installer needs the administrator, and none throws the history away", async () => {
    const config = await readFile(at("electron", "packaging", "electron-builder.yml"), "utf8");
    expect(config).toMatch(/^ {2}perMachine: false$/m);
    expect(config).toMatch(/^ {2}deleteAppDataOnUninstall: false$/m);
  });
});
