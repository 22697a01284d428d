import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { ARCHIVE_ENDINGS, fileKindOf, TUNE_ENDINGS } from "../../core/archive/file-kinds.ts";
import { PROJECT_ROOT } from "../../electron/build.mjs";

const read = (file: string) => readFileSync(path.join(PROJECT_ROOT, file), "utf8");
const CONFIG = "electron/packaging/electron-builder.yml";
const config = () => parse(read(CONFIG));

interface Association {
  readonly ext: string;
  readonly name: string;
  readonly mimeType: string;
  readonly icon: string;
  readonly role: string;
  readonly rank: string;
}

/** The packing tool's own judgement of a configuration, which needs no network. @throws Error naming what is wrong */
function validate(configuration: unknown): void {
  const builder = createRequire(import.meta.resolve("electron-builder"));
  const lib = path.dirname(builder.resolve("app-builder-lib/package.json"));
  const { validateSchema } = builder(path.join(lib, "out/util/config/schemaValidator.js"));
  validateSchema(builder(path.join(lib, "scheme.json")), configuration, { name: "electron-builder" });
}

describe("the configuration of the packing tool", () => {
  test("is right by the tool's own schema, which notices a word too many and a value of another kind", () => {
    expect(() => validate(config())).not.toThrow();
    expect(() => validate({ ...config(), asarr: true })).toThrow("asarr");
    expect(() => validate({ ...config(), nsis: { perMachine: "some" } })).toThrow("nsis");
  });

  test("makes a disk image for both kinds of Mac, an installer for one user of Windows, and two packages for Linux", () => {
    const { mac, win, nsis, linux } = config();
    expect(mac.target).toEqual([{ target: "dmg", arch: ["x64", "arm64"] }]);
    expect(win.target).toBe("nsis");
    expect(nsis).toEqual({ oneClick: true, perMachine: false, deleteAppDataOnUninstall: false });
    expect(linux.target).toEqual(["AppImage", "deb"]);
  });

  test("every file it names is there", () => {
    const { mac, win, linux, afterPack, extraResources } = config();
    const named = [mac.icon, win.icon, linux.icon, mac.entitlements, afterPack, extraResources[0].from];
    for (const file of named) expect(existsSync(path.join(PROJECT_ROOT, file)), file).toBe(true);
  });

  test("package.json has what the packages for Linux ask for", () => {
    const { author, homepage, description, desktopName } = JSON.parse(read("package.json"));
    expect([author.email, homepage, description].every((one) => one.length > 5)).toBe(true);
    expect(desktopName).toBe(`${config().linux.executableName}.desktop`);
  });
});

describe("the files that open with the program", () => {
  const all = (): readonly Association[] => config().fileAssociations;

  test("are tunes in each form and our archive, which alone is ours", () => {
    expect(all().map(({ ext, rank }) => [ext, rank])).toEqual([
      ["abc", "Default"],
      ["musicxml", "Alternate"],
      ["mxl", "Alternate"],
      ["mid", "Alternate"],
      ["midi", "Alternate"],
      ["reedpath", "Owner"],
    ]);
  });

  test("are those the window brings in, and no ending that belongs to everyone", () => {
    for (const { ext } of all()) expect(fileKindOf(`a.${ext}`), ext).not.toBeNull();
    const shared = ["xml", "txt", "gz"];
    const known = [...TUNE_ENDINGS, ...ARCHIVE_ENDINGS].filter((ending) => !shared.includes(ending));
    expect(all().map(({ ext }) => ext)).toEqual(known.sort((one, other) => order(one) - order(other)));
  });

  const order = (ending: string) => all().findIndex(({ ext }) => ext === ending);

  // [F] IANA, Media Types: text/vnd.abc, application/vnd.recordare.musicxml+xml and application/vnd.recordare.musicxml;
  // [P] audio/midi, as freedesktop.org's shared MIME database has it. Ours is of the vendor tree.
  test("have their registered media types, one ending an entry, and a picture of their own", () => {
    expect(Object.fromEntries(all().map(({ ext, mimeType }) => [ext, mimeType]))).toEqual({
      abc: "text/vnd.abc",
      musicxml: "application/vnd.recordare.musicxml+xml",
      mxl: "application/vnd.recordare.musicxml",
      mid: "audio/midi",
      midi: "audio/midi",
      reedpath: "application/vnd.reedpath.archive+gzip",
    });
    for (const { ext, icon } of all()) {
      expect(typeof ext).toBe("string");
      for (const ending of ["ico", "icns"])
        expect(existsSync(path.join(PROJECT_ROOT, "assets/icons", icon.replace(/ico$/, ending))), ext).toBe(
          true,
        );
    }
  });

  test("on macOS every type that the system does not know itself is described", () => {
    const { UTExportedTypeDeclarations: own, UTImportedTypeDeclarations: others } = config().mac.extendInfo;
    const described = [...own, ...others].flatMap(
      (one) => one.UTTypeTagSpecification["public.filename-extension"],
    );
    // [P] macOS itself knows public.midi-audio.
    expect(described.sort()).toEqual(["abc", "musicxml", "mxl", "reedpath"]);
  });
});
