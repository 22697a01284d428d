// @ts-check
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { PROJECT_ROOT } from "../build.mjs";
import { developersPart, namesIn, replacePart } from "./dependencies-text.mjs";

/**
 * Lists every package of other people: what it is for, its licence, and where it goes. Those that are shipped are found
 * by building the parts anew and reading which licences the build wrote beside them. Writes the data of the about box
 * and a part of DEVELOPERS.md.
 *
 * @typedef {import("./dependencies-text.mjs").Dependencies} Dependencies
 * @typedef {Dependencies["window"][number]} Direct
 */

const DATA = "assets/dependencies.json";
const DEVELOPERS = "DEVELOPERS.md";

/** @param {string} file @returns {Promise<any>} */
const json = async (file) => JSON.parse(await readFile(path.join(PROJECT_ROOT, file), "utf8"));

/**
 * @param {"renderer" | "headless"} mode
 * @param {string} file
 */
async function bundledIn(mode, file) {
  const outDir = await mkdtemp(path.join(os.tmpdir(), "reedpath-dependencies-"));
  try {
    const { build } = await import("vite");
    const configFile = path.join(PROJECT_ROOT, "vite.config.ts");
    await build({ configFile, mode, logLevel: "silent", build: { outDir } });
    return namesIn(await readFile(path.join(outDir, file), "utf8"));
  } finally {
    await rm(outDir, { recursive: true, force: true });
  }
}

/**
 * Which of the direct packages lead to one, by the lock file.
 * @param {Record<string, { dependencies?: Record<string, string> }>} packages of package-lock.json
 * @param {readonly string[]} direct
 * @param {string} name
 */
function broughtBy(packages, direct, name) {
  /** @param {string} one @param {Set<string>} seen @returns {boolean} */
  const leads = (one, seen) => {
    if (one === name) return true;
    if (seen.has(one)) return false;
    seen.add(one);
    return Object.keys(packages[`node_modules/${one}`]?.dependencies ?? {}).some((next) => leads(next, seen));
  };
  return direct.filter((one) => leads(one, new Set()));
}

/**
 * @param {Record<string, string>} purposes by name
 * @returns {Promise<readonly Direct[]>}
 */
function directOf(purposes) {
  return Promise.all(
    Object.entries(purposes).map(async ([name, purpose]) => {
      const { version, license } = await json(`node_modules/${name}/package.json`);
      return { name, version, licence: license, purpose };
    }),
  );
}

/** @returns {Promise<Dependencies>} */
async function dependencies() {
  const purposes = await json("electron/packaging/purposes.json");
  const { packages } = await json("package-lock.json");
  const inWindow = await bundledIn("renderer", "third-party-licences.txt");
  const inHeadless = await bundledIn("headless", "headless-licences.txt");
  const direct = Object.keys(purposes.window);
  const missing = direct.filter((name) => !inWindow.some((one) => one.name === name));
  if (missing.length > 0) throw new Error(`purposes.json: not in the window: ${missing.join(", ")}`);
  const known = [...direct, ...Object.keys(purposes.headless)];
  const brought = inWindow.filter(({ name }) => !direct.includes(name));
  const strange = inHeadless.filter(
    ({ name }) => !known.includes(name) && !brought.some((one) => one.name === name),
  );
  if (strange.length > 0)
    throw new Error(`purposes.json: headless also has ${strange.map(({ name }) => name).join(", ")}`);
  return {
    about: "Packages of other people. Made by: npm run dependencies",
    program: await directOf(purposes.program),
    window: await directOf(purposes.window),
    brought: brought.map((one) => ({ ...one, broughtBy: broughtBy(packages, direct, one.name) })),
    headless: await directOf(purposes.headless),
    development: await directOf(purposes.development),
  };
}

const found = await dependencies();
// Lists of names stand in one line, as the formatter has them.
const data = JSON.stringify(found, null, 2).replace(
  /\[\n\s+("[^"]*"(?:,\n\s+"[^"]*")*)\n\s+\]/g,
  (_, names) => `[${names.replace(/\n\s+/g, " ")}]`,
);
await writeFile(path.join(PROJECT_ROOT, DATA), `${data}\n`);
const file = path.join(PROJECT_ROOT, DEVELOPERS);
await writeFile(file, replacePart(await readFile(file, "utf8"), developersPart(found)));
console.log(
  `${found.window.length} packages in the window and ${found.brought.length} they bring along, ` +
    `${found.headless.length} in the headless command besides, ${found.development.length} for development: ` +
    `${DATA} and ${DEVELOPERS} written.`,
);
