/** What is wrong with a file, in one line that names the place. */
export class Fault extends Error {}

/** @throws Fault where the text is no JSON */
export function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    const message = error instanceof Error ? error.message : "cannot be parsed";
    throw new Fault(`not JSON: ${message.replace(/\s+/g, " ")}`);
  }
}

export const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** A value as the file has it, cut to fit into a line. */
export function shown(value: unknown): string {
  if (value === undefined) return "nothing";
  const text = JSON.stringify(value).replace(/[\u2028\u2029]/g, " ");
  return text.length > 40 ? `${text.slice(0, 37)}…` : text;
}
