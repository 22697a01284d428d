import { existsSync, readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import type { Plugin } from "vite";

/** Of packages that came without the text of their licence; each file says where its text is from. */
const TEXTS = path.join(import.meta.dirname, "licence-texts");

/** A package of someone else's of which something is in a bundle. */
interface Bundled {
  readonly name: string;
  readonly version: string;
  readonly licence: string;
  readonly text: string;
}

const ABOUT = `Packages of other people that are part of this program, each with its licence as it came with the package.
`;

/**
 * Writes beside a bundle the licences of all packages that went into it and into its workers.
 *
 * @returns `page` for the bundle itself, `workers` for each of its workers, which are bundled by themselves
 */
export function bundledLicences(fileName: string): { readonly page: Plugin; readonly workers: () => Plugin } {
  const folders = new Set<string>();
  const collect: Plugin["generateBundle"] = (_options, bundle) => {
    for (const part of Object.values(bundle)) {
      if (part.type !== "chunk") continue;
      for (const id of part.moduleIds) {
        const folder = packageFolder(id);
        if (folder !== null) folders.add(folder);
      }
    }
  };
  return {
    workers: () => ({ name: "licences-of-workers", generateBundle: collect }),
    page: {
      name: "licences",
      generateBundle(options, bundle, isWrite) {
        (collect as (...all: unknown[]) => void).call(this, options, bundle, isWrite);
        if (folders.size === 0) return;
        const all = [...folders].map(readPackage).sort((one, other) => (one.name < other.name ? -1 : 1));
        this.emitFile({ type: "asset", fileName, source: licencesText(all) });
      },
    },
  };
}

/** Folder of the package a module belongs to; null for our own. What the bundler adds carries marks around the path. */
function packageFolder(id: string): string | null {
  const plain = id.replace(/^\0/, "").replace(/\?.*$/, "").replaceAll("\\", "/");
  const found = /^(.*\/node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(plain);
  return found?.[1] ?? null;
}

/** @throws Error where a package says no licence, or has no text of it: it must not be passed on like that */
function readPackage(folder: string): Bundled {
  const { name, version, license } = JSON.parse(readFileSync(path.join(folder, "package.json"), "utf8"));
  if (typeof license !== "string") throw new Error(`${name} ${version} does not say its licence`);
  const text = textIn(folder) ?? textOfOurs(name);
  if (text === null) throw new Error(`${name} ${version} (${license}) has no text of its licence`);
  return { name, version, licence: license, text };
}

function textIn(folder: string): string | null {
  const files = readdirSync(folder)
    .filter((name) => /^(licen[cs]e|copying)(\.|$)/i.test(name))
    .sort();
  if (files.length === 0) return null;
  return files.map((name) => readFileSync(path.join(folder, name), "utf8").trim()).join("\n\n");
}

function textOfOurs(name: string): string | null {
  const file = path.join(TEXTS, `${name.replace("/", "__")}.txt`);
  return existsSync(file) ? readFileSync(file, "utf8").trim() : null;
}

/** Headings as `dependencies.mjs` reads them again. */
const licencesText = (all: readonly Bundled[]) =>
  [ABOUT, ...all.map(({ name, version, licence, text }) => `## ${name} ${version} (${licence})\n\n${text}\n`)]
    .join("\n")
    .replaceAll("\r\n", "\n");
