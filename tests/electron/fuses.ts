import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { parse } from "yaml";
import { PROJECT_ROOT } from "../../electron/build.mjs";

/** The package that electron-builder sets fuses with. */
export const { FuseV1Options, getCurrentFuseWire } = createRequire(import.meta.resolve("electron-builder"))(
  "@electron/fuses",
) as typeof import("@electron/fuses");

/** The names of every fuse the installed package knows, as it writes them. */
export const fuseNames = (): readonly (keyof typeof FuseV1Options)[] =>
  Object.keys(FuseV1Options).filter((name) => Number.isNaN(Number(name))) as (keyof typeof FuseV1Options)[];

/** electron-builder's name of a fuse: the same with a small first letter. */
export const optionOf = (name: string): string => `${name[0]?.toLowerCase()}${name.slice(1)}`;

/** What each has to be. Source: Electron's "Fuses" tutorial, which says of each what it lets in. */
export const WANTED: Readonly<Record<keyof typeof FuseV1Options, boolean>> = {
  RunAsNode: false,
  EnableCookieEncryption: true,
  EnableNodeOptionsEnvironmentVariable: false,
  EnableNodeCliInspectArguments: false,
  EnableEmbeddedAsarIntegrityValidation: true,
  OnlyLoadAppFromAsar: true,
  // There is one snapshot and no other for the browser process.
  LoadBrowserProcessSpecificV8Snapshot: false,
  GrantFileProtocolExtraPrivileges: false,
};

export function fusesOfConfig(): Readonly<Record<string, unknown>> {
  const file = path.join(PROJECT_ROOT, "electron", "packaging", "electron-builder.yml");
  return parse(readFileSync(file, "utf8")).electronFuses;
}

/** What is wrong with fuses as configured: one not said, said otherwise, or not known; empty where nothing is. */
export function fusesInWords(configured: Readonly<Record<string, unknown>>): readonly string[] {
  const known = fuseNames().map(optionOf);
  return [
    ...fuseNames().flatMap((name) => {
      const wanted = WANTED[name];
      if (wanted === undefined) return [`${name}: nobody has said yet what it has to be`];
      const said = configured[optionOf(name)];
      return said === wanted ? [] : [`${name}: is ${said}, has to be ${wanted}`];
    }),
    ...Object.keys(configured)
      .filter((option) => !known.includes(option))
      .map((option) => `${option}: no such fuse`),
  ];
}
