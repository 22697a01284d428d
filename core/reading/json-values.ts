import { beyond, LIMITS, moreThan } from "./limits.ts";
import { inLine, LONGEST, plainWords, quoted } from "./quoting.ts";

/** What is wrong with a file, in one line that names the place. */
export class Fault extends Error {}

/**
 * JSON of a file, within `LIMITS.jsonBytes` and `LIMITS.jsonDepth`: what goes through it afterwards, layer by layer, must come
 * to an end.
 *
 * @throws Fault where the text is no JSON, or beyond them
 */
export function parsed(text: string): unknown {
  // A character has a byte at the least.
  if (text.length > LIMITS.jsonBytes.most)
    throw new Fault(`the text has ${beyond(text.length, { ...LIMITS.jsonBytes, of: "characters" })}`);
  if (isTooDeep(text)) throw new Fault(moreThan(LIMITS.jsonDepth));
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new Fault(inLine(`not JSON: ${error instanceof Error ? error.message : "cannot be parsed"}`));
  }
}

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const OPENING = [0x5b, 0x7b];
const CLOSING = [0x5d, 0x7d];

/** Whether lists and objects lie deeper within one another than is read; of text that is no JSON, whether they seem to. */
export function isTooDeep(text: string): boolean {
  let depth = 0;
  for (let at = 0; at < text.length; at++) {
    const sign = text.charCodeAt(at);
    if (sign === QUOTE) at = endOfText(text, at);
    else if (OPENING.includes(sign) && ++depth > LIMITS.jsonDepth.most) return true;
    else if (CLOSING.includes(sign)) depth--;
  }
  return false;
}

/** Where a text in quotation marks ends; the last character where it does not. */
function endOfText(text: string, from: number): number {
  for (let end = text.indexOf('"', from + 1); end >= 0; end = text.indexOf('"', end + 1)) {
    let slashes = 0;
    while (text.charCodeAt(end - 1 - slashes) === BACKSLASH) slashes++;
    if (slashes % 2 === 0) return end;
  }
  return text.length;
}

export const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** A value as the file has it, cut to fit into a line. */
export function shown(value: unknown): string {
  if (value === undefined) return "nothing";
  return typeof value === "string" ? quoted(value) : plainWords(JSON.stringify(value), LONGEST);
}
