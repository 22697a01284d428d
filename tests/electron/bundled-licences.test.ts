import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { bundledLicences } from "../../electron/packaging/bundled-licences.ts";
import { namesIn } from "../../electron/packaging/dependencies-text.mjs";

let folder = "";
const at = (...parts: string[]) => path.join(folder, "node_modules", ...parts);

async function install(
  name: string,
  about: object,
  texts: Readonly<Record<string, string>> = {},
): Promise<void> {
  await mkdir(at(name), { recursive: true });
  await writeFile(at(name, "package.json"), JSON.stringify({ name, version: "1.2.3", ...about }));
  for (const [file, text] of Object.entries(texts)) await writeFile(at(name, file), text);
}

beforeAll(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), "reedpath-licences-"));
  await install("reeds", { license: "MIT" }, { LICENSE: "Permission is granted.\r\n" });
  await install("@band/beat", { license: "ISC" }, { "LICENCE.md": "Use it.", "COPYING.LESSER": "And so." });
  await install("wordless", { license: "MIT" });
  await install("silent", {}, { LICENSE: "x" });
});
afterAll(() => rm(folder, { recursive: true }));

/** Has the plugins see bundles of these modules and gives what is written beside the page. */
function written(page: readonly string[], ofWorkers: readonly string[] = []): string | undefined {
  const plugins = bundledLicences("licences.txt");
  const emitFile = vi.fn((_file: { readonly fileName: string; readonly source: string }) => "");
  const see = (plugin: object, moduleIds: readonly string[]) =>
    (plugin as { generateBundle(...all: unknown[]): void }).generateBundle.call(
      { emitFile },
      {},
      { "a.js": { type: "chunk", moduleIds }, "a.css": { type: "asset" } },
      true,
    );
  see(plugins.workers(), ofWorkers);
  see(plugins.page, page);
  return emitFile.mock.calls[0]?.[0].source;
}

describe("the licences beside a bundle", () => {
  test("are those of every package in it and in its workers, each once, by name, with all its texts", () => {
    const helper = `\0${at("reeds", "index.js")}?commonjs-module`;
    const text =
      written([at("reeds", "a.js"), helper, "/program/core/units.ts"], [at("@band", "beat", "b.js")]) ?? "";
    expect(namesIn(text)).toEqual([
      { name: "@band/beat", version: "1.2.3", licence: "ISC" },
      { name: "reeds", version: "1.2.3", licence: "MIT" },
    ]);
    expect(text).toContain("## @band/beat 1.2.3 (ISC)\n\nAnd so.\n\nUse it.\n");
    expect(text).toContain("## reeds 1.2.3 (MIT)\n\nPermission is granted.\n");
    expect(text).not.toContain("\r");
  });

  test("a package within a package is itself", () => {
    const inner = path.join(at("reeds"), "node_modules", "@band", "beat");
    expect(() => written([path.join(inner, "b.js")])).toThrow("ENOENT");
  });

  test("one without the words of its licence, or without a licence, must not be passed on", () => {
    expect(() => written([at("wordless", "a.js")])).toThrow(
      "wordless 1.2.3 (MIT) has no text of its licence",
    );
    expect(() => written([], [at("silent", "a.js")])).toThrow("silent 1.2.3 does not say its licence");
  });

  test("nothing is written where nothing of other people is in it", () => {
    expect(written(["/program/electron/main.ts"])).toBeUndefined();
  });
});
