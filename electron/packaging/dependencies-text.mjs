// @ts-check

/**
 * @typedef {import("./dependencies-text.mjs").Dependencies} Dependencies
 * @typedef {Dependencies["window"][number]} Direct
 * @typedef {Dependencies["brought"][number]} Brought
 */

const BEGIN = "<!-- npm run dependencies writes from here -->";
const END = "<!-- to here -->";

/**
 * The tables of DEVELOPERS.md.
 * @param {Dependencies} all
 */
export function developersPart({ program, window, brought, headless, development }) {
  return [
    "In the packed program:",
    "",
    table([...program, ...window]),
    "",
    `The window's packages bring ${brought.length} more into it: ${brought.map(broughtInWords).join("; ")}.`,
    "",
    "In the headless command besides, which is not packed:",
    "",
    table(headless),
    "",
    "For development alone, never passed on:",
    "",
    table(development),
  ].join("\n");
}

/** @param {readonly Direct[]} rows */
const table = (rows) =>
  [
    "| package | licence | what for |",
    "| --- | --- | --- |",
    ...rows.map(({ name, version, licence, purpose }) => `| ${name} ${version} | ${licence} | ${purpose} |`),
  ].join("\n");

/** @param {Brought} one */
const broughtInWords = ({ name, version, licence, broughtBy }) =>
  `${name} ${version} (${licence}, by ${broughtBy.join(", ")})`;

/**
 * Puts a new part in place of the one between the marks.
 * @param {string} text
 * @param {string} part
 * @throws {Error} where the marks are missing
 */
export function replacePart(text, part) {
  const begin = text.indexOf(BEGIN);
  const end = text.indexOf(END);
  if (begin === -1 || end < begin) throw new Error(`DEVELOPERS.md has no ${BEGIN} and ${END}`);
  return `${text.slice(0, begin)}${BEGIN}\n\n${part}\n\n${text.slice(end)}`;
}

/**
 * What the build says it put into a part.
 * @param {string} text as bundled-licences.ts writes it
 * @returns {readonly Pick<Direct, "name" | "version" | "licence">[]}
 */
export function namesIn(text) {
  return [...text.matchAll(/^## (\S+) (\d\S*) \((.+)\)$/gm)].map(
    ([, name = "", version = "", licence = ""]) => ({
      name,
      version,
      licence,
    }),
  );
}
