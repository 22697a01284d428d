import { execFileSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { readdir, readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import path from "node:path";
import { extractFile, listPackage } from "@electron/asar";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { parse } from "yaml";
import { PROJECT_ROOT } from "../../../electron/build.mjs";
import { withoutTransportException } from "../../../electron/packaging/after-pack.mjs";
import { CONTENT_SECURITY_POLICY } from "../../../electron/response-headers.ts";
import { FuseV1Options, fuseNames, getCurrentFuseWire, WANTED } from "../fuses.ts";
import type { ProjectCopy } from "../project-copy.ts";
import type { System } from "./make-stub.ts";
import { canMakeDebianPackages, PLACES, pack, programToPack } from "./pack.ts";

const SYSTEMS: readonly System[] = ["linux", "mac", "win"];

const config: {
  readonly mac: Readonly<Record<string, string | boolean>>;
  readonly fileAssociations: readonly { readonly ext: string; readonly mimeType: string }[];
} = parse(readFileSync(path.join(PROJECT_ROOT, "electron/packaging/electron-builder.yml"), "utf8"));

let project: ProjectCopy;
const dist = (...parts: string[]) => path.join(project.root, "dist", ...parts);
const asarOf = (system: System) => dist(PLACES[system].resources, "app.asar");
const files = (system: System) =>
  listPackage(asarOf(system), { isPack: false }).map((name) => name.replaceAll("\\", "/"));
const textOf = (system: System, name: string) => extractFile(asarOf(system), name.slice(1)).toString();

beforeAll(async () => {
  project = await programToPack();
  for (const system of SYSTEMS) await pack(project, system);
}, 300_000);
afterAll(() => project.remove());

describe.each(SYSTEMS)("the program packed for %s (around a stub: no Electron here)", (system) => {
  test("holds the built window, the main and the preload script, and nothing else", () => {
    const parts = files(system).filter((name) => name.startsWith("/out/renderer/assets/"));
    // Named by what they are, with a hash of what is in them: page, styles, icon, workers and one worklet.
    for (const name of parts)
      expect(name).toMatch(/^\/out\/renderer\/assets\/[a-z0-9-]+(\.work(er|let))?-[\w-]{8}\.(js|css|svg)$/);
    expect(parts.filter((name) => /\.worker-.*\.js$/.test(name)).length).toBeGreaterThan(5);
    expect(parts.filter((name) => /\.worklet-.*\.js$/.test(name))).toHaveLength(1);
    expect(
      files(system)
        .filter((name) => !parts.includes(name))
        .sort(),
    ).toEqual([
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

  test("no source, no test, no map and nothing that lay about is anywhere in it", async () => {
    const all = await readdir(dist(), { recursive: true });
    expect(all.length).toBeGreaterThan(10);
    const inside = [...all, ...files(system)];
    expect(
      inside.filter((name) => /\.tsx?$|\.test\.|\.map$|secret|\.env|notes\.txt|node_modules/.test(name)),
    ).toEqual([]);
  });

  test("no file of it knows the machine it was packed on, or points to a map", () => {
    for (const name of files(system).filter((one) => /\.\w+$/.test(one))) {
      const text = textOf(system, name);
      expect(text.includes(project.root) || text.includes(PROJECT_ROOT), name).toBe(false);
      expect(text, name).not.toMatch(/sourceMappingURL=|\/node_modules\/|\/home\/|\/Users\/|[A-Z]:\\\\/);
    }
  });

  test("its page carries the policy of every answer, but for who may frame it, which only a header can say", () => {
    const page = textOf(system, "/out/renderer/index.html");
    const [, meta = ""] = /<meta http-equiv="Content-Security-Policy" content="([^"]+)">/.exec(page) ?? [];
    const policy = meta.replaceAll("&#39;", "'");
    expect(`${policy}; frame-ancestors 'none'`).toBe(CONTENT_SECURITY_POLICY);
    expect(policy).not.toMatch(/unsafe|\*|https?:|blob:/);
    // It counts for what comes after it.
    expect(page.indexOf("<meta http-equiv")).toBeLessThan(page.search(/<script|<link|<style/));
    expect(page).not.toMatch(/<script(?![^>]*\bsrc=)|<style|\sstyle=|\son\w+=/);
  });

  test("its package.json starts the main script and tells nothing of how it was made", () => {
    const packed: unknown = JSON.parse(textOf(system, "/package.json"));
    expect(packed).toMatchObject({ name: "reedpath", productName: "Reedpath", main: "out/electron/main.js" });
    for (const field of ["scripts", "devDependencies", "build"]) expect(packed).not.toHaveProperty(field);
  });

  test("brings the licences of everything in it: its own, Electron's, Chromium's and the packages'", async () => {
    // Those of Electron are not in what the stub for macOS is made of; of the real one the packing tool takes them along.
    if (system !== "mac")
      expect(await readdir(dist(PLACES[system].licences))).toEqual(
        expect.arrayContaining(["LICENSE.electron.txt", "LICENSES.chromium.html"]),
      );
    expect(await readFile(dist(PLACES[system].resources, "LICENSE.reedpath.txt"), "utf8")).toContain(
      "MIT License",
    );
    expect(textOf(system, "/out/renderer/third-party-licences.txt")).toContain("## react ");
  });

  test("every fuse the package knows is set as it has to be, against what the stub had", async () => {
    const wire = await getCurrentFuseWire(dist(PLACES[system].program));
    const [off, on] = ["0", "1"].map((sign) => sign.charCodeAt(0));
    for (const name of fuseNames()) expect(wire[FuseV1Options[name]], name).toBe(WANTED[name] ? on : off);
  });
});

/** A property list of macOS as data, by the packing tool's own reader. */
async function plistOf(...parts: string[]): Promise<Record<string, unknown>> {
  const builder = createRequire(
    createRequire(import.meta.resolve("electron-builder")).resolve("app-builder-lib"),
  );
  return builder("plist").parse(await readFile(dist(...parts), "utf8"));
}

describe("what only macOS reads", () => {
  const contents = "mac/Reedpath.app/Contents";

  test("why the microphone is wanted; that files of ours open with the program; and no leave to load anything", async () => {
    const plist = await plistOf(contents, "Info.plist");
    expect(plist.NSMicrophoneUsageDescription).toMatch(/^Reedpath listens .+ stays on this computer\.$/);
    expect(plist.CFBundleIdentifier).toBe("org.example.reedpath");
    expect(plist).not.toHaveProperty("NSAppTransportSecurity");
    const types = plist.CFBundleDocumentTypes as Record<string, unknown>[];
    expect(types.map((one) => [one.CFBundleTypeExtensions, one.CFBundleTypeRole, one.LSHandlerRank])).toEqual(
      [
        [["abc"], "Viewer", "Default"],
        [["musicxml"], "Viewer", "Alternate"],
        [["mxl"], "Viewer", "Alternate"],
        [["mid"], "Viewer", "Alternate"],
        [["midi"], "Viewer", "Alternate"],
        [["reedpath"], "Editor", "Owner"],
      ],
    );
    for (const { CFBundleTypeIconFile: icon } of types)
      expect(existsSync(dist(contents, "Resources", String(icon))), String(icon)).toBe(true);
    const own = plist.UTExportedTypeDeclarations as Record<string, unknown>[];
    expect(own).toMatchObject([
      {
        UTTypeIdentifier: "org.example.reedpath.archive",
        UTTypeTagSpecification: { "public.filename-extension": ["reedpath"] },
      },
    ]);
  });

  test("the hardened runtime lets the compiler and the microphone through, and nothing else", async () => {
    const { mac } = config;
    expect(mac).toMatchObject({ hardenedRuntime: true, entitlements: mac.entitlementsInherit });
    const text = await readFile(path.join(PROJECT_ROOT, String(mac.entitlements)), "utf8");
    const granted = [...text.matchAll(/<key>(.+?)<\/key>\s*<true\/>/g)].map((match) => match[1]);
    expect(granted).toEqual(["com.apple.security.cs.allow-jit", "com.apple.security.device.audio-input"]);
  });

  test("the leave to load anything is taken out whole, wherever it stands and whatever is in it", () => {
    const around = (middle: string) =>
      `<plist><dict><key>a</key><dict><key>b</key></dict>${middle}<key>c</key><true/></dict></plist>`;
    for (const value of [
      "<dict/>",
      "<dict></dict>",
      "<dict><key>x</key><dict><key>y</key><dict/></dict></dict>",
    ])
      expect(withoutTransportException(around(`<key>NSAppTransportSecurity</key>${value}`))).toBe(around(""));
    expect(withoutTransportException(around(""))).toBe(around(""));
    expect(() => withoutTransportException("<dict><key>NSAppTransportSecurity</key><dict>")).toThrow(
      "no end",
    );
  });
});

const whyNoDeb = canMakeDebianPackages ? "" : " (skipped: there is no dpkg-deb)";
describe.skipIf(!canMakeDebianPackages)(
  `the Debian package, made by dpkg-deb around a stub${whyNoDeb}`,
  () => {
    const { version } = JSON.parse(readFileSync(path.join(PROJECT_ROOT, "package.json"), "utf8"));
    const deb = () => dist(`reedpath-${version}-linux-amd64.deb`);
    const dpkg = (...args: string[]) =>
      execFileSync("dpkg-deb", args, { encoding: "utf8", maxBuffer: 1 << 28 });
    /** One file of it, as it would lie on the disk. */
    const inside = (name: string) =>
      execFileSync("sh", ["-c", `dpkg-deb --fsys-tarfile "$1" | tar -xO "$2"`, "sh", deb(), `.${name}`], {
        encoding: "utf8",
      });

    test("says what it is and what it needs", () => {
      const [name, said, machine, needs, description] = [
        "Package",
        "Version",
        "Architecture",
        "Depends",
        "Description",
      ].map((field) => dpkg("--field", deb(), field).trim());
      expect([name, said, machine]).toEqual(["reedpath", version, "amd64"]);
      expect(description).toMatch(/^Practice trainer for ten-hole diatonic harmonicas\n/);
      expect(needs).toContain("libgtk-3-0");
      expect(dpkg("--info", deb())).toMatch(/postinst[\s\S]*postrm|postrm[\s\S]*postinst/);
    });

    test("puts the program into one folder, and an icon of every size, a menu entry and the types of files where systems look", () => {
      const all = dpkg("--contents", deb())
        .trim()
        .split("\n")
        .map((line) => line.replace(/^.* \.\//, "/"));
      const outside = all.filter((name) => !name.startsWith("/opt/Reedpath/") && !name.endsWith("/"));
      expect(outside.sort()).toEqual([
        "/usr/share/applications/reedpath.desktop",
        ...[128, 16, 24, 256, 32, 48, 512, 64].map(
          (size) => `/usr/share/icons/hicolor/${size}x${size}/apps/reedpath.png`,
        ),
        "/usr/share/mime/packages/reedpath.xml",
      ]);
      expect(all).toEqual(
        expect.arrayContaining(["/opt/Reedpath/reedpath", "/opt/Reedpath/resources/app.asar"]),
      );
      expect(dpkg("--contents", deb())).toMatch(/-rwxr-xr-x root\/root .* \.\/opt\/Reedpath\/reedpath\n/);
    });

    test("its menu entry opens files with the program, and names every type", () => {
      const entry = Object.fromEntries(
        inside("/usr/share/applications/reedpath.desktop")
          .split("\n")
          .flatMap((line) => {
            const at = line.indexOf("=");
            return at === -1 ? [] : [[line.slice(0, at), line.slice(at + 1)]];
          }),
      );
      // [F] freedesktop.org, Desktop Entry Specification: %U stands for the files that are opened; types end in a semicolon.
      expect(entry).toMatchObject({
        Type: "Application",
        Name: "Reedpath",
        Exec: "/opt/Reedpath/reedpath %U",
        Icon: "reedpath",
      });
      expect(new Set(entry.MimeType?.split(";").filter(Boolean))).toEqual(
        new Set(config.fileAssociations.map((one) => one.mimeType)),
      );
      expect(entry.Categories).toBe("AudioVideo;Audio;Music;Education;");
      expect(entry.Terminal).toBe("false");
    });

    test("its types of files are told by their endings, one each", () => {
      const types = inside("/usr/share/mime/packages/reedpath.xml");
      const told = [...types.matchAll(/<mime-type type="([^"]+)">\s*<glob pattern="\*\.([^"]+)"\/>/g)].map(
        ([, type, ending]) => [ending, type],
      );
      expect(told).toEqual(config.fileAssociations.map(({ ext, mimeType }) => [ext, mimeType]));
    });
  },
);
