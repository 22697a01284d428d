/**
 * Plain data as JSON of one form only: names of fields in order of their UTF-16 code units, no space, nothing that is
 * undefined. Equal data give equal text.
 *
 * Source: the sorting of RFC 8785, 3.2.3; numbers and texts as ECMAScript's JSON.stringify writes them, which is what
 * RFC 8785 asks for. Differs: a number that JSON cannot write becomes null instead of an error.
 */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(",")}]`;
  if (typeof value !== "object" || value === null) return JSON.stringify(value) ?? "null";
  const fields = value as Readonly<Record<string, unknown>>;
  const names = Object.keys(fields)
    .filter((name) => fields[name] !== undefined)
    .sort();
  return `{${names.map((name) => `${JSON.stringify(name)}:${canonicalJson(fields[name])}`).join(",")}}`;
}
