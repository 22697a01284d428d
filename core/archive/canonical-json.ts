const NUMBER = "not a JSON number";

/**
 * Plain data as JSON of one form only: names of fields in order of their UTF-16 code units, no space, nothing that is
 * undefined. Equal data give equal text.
 *
 * Source: the sorting of RFC 8785, 3.2.3; numbers and texts as ECMAScript's JSON.stringify writes them, which is what
 * RFC 8785 asks for. Differs: a number that JSON cannot write, such as the level of silence, becomes
 * `{"not a JSON number":"-Infinity"}` instead of an error; `parseCanonical` gives it back.
 */
export function canonicalJson(value: unknown): string {
  const ordered = inOrder(value);
  return ordered === NO_ORDER ? pieceByPiece(value) : (JSON.stringify(ordered) ?? "null");
}

/** Names like "10" and "__proto__" have a place or a meaning of their own in an object. */
const NO_ORDER = Symbol("no object has its names in that order");
const UNORDERLY = /^(\d+|__proto__)$/;

/** The same data with the names of all fields put in order, for the engine's own writing, which is quicker than ours. */
function inOrder(value: unknown): unknown {
  if (typeof value === "number") return Number.isFinite(value) ? value : { [NUMBER]: `${value}` };
  if (typeof value !== "object" || value === null) return value;
  if (Array.isArray(value)) {
    const all = value.map(inOrder);
    return all.includes(NO_ORDER) ? NO_ORDER : all;
  }
  const fields = value as Readonly<Record<string, unknown>>;
  const ordered: Record<string, unknown> = {};
  for (const name of Object.keys(fields).sort()) {
    const part = UNORDERLY.test(name) ? NO_ORDER : inOrder(fields[name]);
    if (part === NO_ORDER) return NO_ORDER;
    ordered[name] = part;
  }
  return ordered;
}

function pieceByPiece(value: unknown): string {
  if (typeof value === "number" && !Number.isFinite(value)) return `{"${NUMBER}":"${value}"}`;
  if (Array.isArray(value)) return `[${value.map(pieceByPiece).join(",")}]`;
  if (typeof value !== "object" || value === null) return JSON.stringify(value) ?? "null";
  const fields = value as Readonly<Record<string, unknown>>;
  const names = Object.keys(fields)
    .filter((name) => fields[name] !== undefined)
    .sort();
  return `{${names.map((name) => `${JSON.stringify(name)}:${pieceByPiece(fields[name])}`).join(",")}}`;
}

/** @throws SyntaxError if it is not JSON */
export function parseCanonical(text: string): unknown {
  return text.includes(`"${NUMBER}"`) ? JSON.parse(text, givenBack) : JSON.parse(text);
}

function givenBack(_: string, value: unknown): unknown {
  if (typeof value !== "object" || value === null || !Object.hasOwn(value, NUMBER)) return value;
  const words = (value as Readonly<Record<string, unknown>>)[NUMBER];
  return words === "Infinity" || words === "-Infinity" || words === "NaN" ? Number(words) : value;
}
