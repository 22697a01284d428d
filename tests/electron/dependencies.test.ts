import { readFileSync } from "node:fs";
import path from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { buildStale, PROJECT_ROOT } from "../../electron/build.mjs";
import { developersPart, namesIn, replacePart } from "../../electron/packaging/dependencies-text.mjs";

const read = (file: string) => readFileSync(path.join(PROJECT_ROOT, file), "utf8");
const { program, window, brought, headless, development } = JSON.parse(read("assets/dependencies.json"));
const listed: { name: string; version: string; licence: string; purpose: string }[] = [
  ...program,
  ...window,
  ...headless,
  ...development,
];
const STALE = "run: npm run dependencies";
const byName = <One extends { readonly name: string }>(all: readonly One[]) =>
  [...all].sort((one, other) => (one.name < other.name ? -1 : 1));
const plain = ({ name, version, licence }: (typeof listed)[number]) => ({ name, version, licence });

/** What may be shipped: licences that ask for no more than their text. [F] SPDX licence list. */
const PERMISSIVE = ["MIT", "ISC", "0BSD", "BSD-2-Clause", "BSD-3-Clause", "Apache-2.0"];

beforeAll(async () => {
  await buildStale({ modes: ["headless", "renderer"] });
}, 120_000);

describe("packages of other people", () => {
  test("each that package.json names is listed with its purpose and the version that is installed", () => {
    const wanted: Record<string, string> = JSON.parse(read("package.json")).devDependencies;
    expect(Object.keys(wanted).length).toBeGreaterThan(30);
    expect(
      byName(listed).map(({ name, version }) => [name, version]),
      STALE,
    ).toEqual(Object.entries(wanted).sort(([one], [other]) => (one < other ? -1 : 1)));
    for (const { name, version, licence, purpose } of listed) {
      expect(purpose, name).toMatch(/\w{3}.*\w/);
      const installed = JSON.parse(read(`node_modules/${name}/package.json`));
      expect([installed.version, installed.license], `${name}: ${STALE}`).toEqual([version, licence]);
    }
  });

  test("everything in the window's bundles is listed, and its licence lies beside them", () => {
    const text = read("out/renderer/third-party-licences.txt");
    expect(namesIn(text), STALE).toEqual(byName([...window, ...brought]).map(plain));
    expect(brought.length).toBeGreaterThan(10);
    for (const { name, broughtBy } of brought) {
      expect(broughtBy.length, `${name} is brought by nobody`).toBeGreaterThan(0);
      expect(window.map((one: { name: string }) => one.name)).toEqual(expect.arrayContaining(broughtBy));
    }
  });

  test("each has the words of its licence in that file, not its name alone", () => {
    const parts = read("out/renderer/third-party-licences.txt").split(/^## /m).slice(1);
    expect(parts).toHaveLength(window.length + brought.length);
    // What every one of these licences says somewhere: that it is given as it is.
    for (const part of parts) {
      const words = part.replace(/\s+/g, " ");
      expect(words, part.slice(0, 60)).toMatch(/"?AS IS"?/);
      expect(words, part.slice(0, 60)).toMatch(/permission|permitted|license/i);
      expect(words.length, part.slice(0, 60)).toBeGreaterThan(500);
    }
  });

  test("what only the headless command has besides is listed, with its text beside that command", () => {
    const text = read("out/electron/headless-licences.txt");
    const known = [...window, ...brought, ...headless].map(plain);
    const found = namesIn(text);
    expect(found.length).toBeGreaterThan(5);
    expect(known, STALE).toEqual(expect.arrayContaining(found as never[]));
    for (const one of headless) expect(found, STALE).toContainEqual(plain(one));
  });

  test("every licence is one that may go along", () => {
    for (const { name, licence } of [...program, ...window, ...brought])
      expect(PERMISSIVE, name).toContain(licence);
    // Built into a file that nobody is given with the program; whoever passes it on passes its licences on (DEVELOPERS).
    for (const { name, licence } of headless) expect([...PERMISSIVE, "LGPL-3.0"], name).toContain(licence);
    for (const { name, licence } of development)
      expect([...PERMISSIVE, "MPL-2.0", "MIT OR Apache-2.0"], name).toContain(licence);
  });

  test("the lists of DEVELOPERS.md are these", () => {
    const text = read("DEVELOPERS.md");
    const part = developersPart({ about: "", program, window, brought, headless, development });
    expect(replacePart(text, part), STALE).toBe(text);
  });

  test("a text without the two marks is refused, and what stands between them is replaced", () => {
    expect(() => replacePart("nothing", "new")).toThrow("has no");
    const marked = replacePart(read("DEVELOPERS.md"), "new");
    expect(marked).toContain("writes from here -->\n\nnew\n\n<!-- to here");
    expect(marked).not.toContain("| react ");
  });
});
