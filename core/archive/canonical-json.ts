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
  if (typeof value === "number" && !Number.isFinite(value)) return `{"${NUMBER}":"${value}"}`;
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(",")}]`;
  if (typeof value !== "object" || value === null) return JSON.stringify(value) ?? "null";
  const fields = value as Readonly<Record<string, unknown>>;
  const names = Object.keys(fields)
    .filter((name) => fields[name] !== undefined)
    .sort();
  return `{${names.map((name) => `${JSON.stringify(name)}:${canonicalJson(fields[name])}`).join(",")}}`;
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
