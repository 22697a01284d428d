import { MOST_TIMES } from "./limits.ts";
import type { BarToken } from "./music-tokens.ts";

/**
 * Reads a bar line of any shape: a run of | [ ] and : (ABC 2.1, 4.8).
 *
 * @returns null if none begins here; `end` is the character after it
 */
export function barLineAt(
  text: string,
  at: number,
): { readonly token: BarToken; readonly end: number } | null {
  if (!beginsBarLine(text, at)) return null;
  let end = at;
  while (end < text.length && belongs(text, end)) end++;
  const run = text.slice(at, end);
  return { token: { kind: "bar", at, ...meaningOf(run) }, end };
}

function beginsBarLine(text: string, at: number): boolean {
  const sign = text[at];
  const next = text[at + 1] ?? "";
  if (sign === "|" || sign === "]") return true;
  if (sign === ":") return /[:|\]]/.test(next);
  return sign === "[" && next === "|";
}

/** An opening bracket belongs to the bar line only where another bar line sign follows: else it opens something. */
function belongs(text: string, at: number): boolean {
  const sign = text[at] ?? "";
  if (sign === "[") return /[|:]/.test(text[at + 1] ?? "");
  return "|]:".includes(sign);
}

function meaningOf(run: string): Omit<BarToken, "kind" | "at"> {
  const first = /^:*/.exec(run)?.[0].length ?? 0;
  if (first === run.length) {
    // "::" is short for ":|" and "|:"; longer ones likewise stand for as many on each side as they have pairs.
    const colons = Math.max(1, Math.floor(run.length / 2));
    return { repeatTo: times(colons), repeatFrom: times(colons), double: true };
  }
  const last = /:*$/.exec(run)?.[0].length ?? 0;
  const lines = run.slice(first, run.length - last);
  // An invisible bar line, [|], counts bars but ends nothing.
  const double = lines.length > 1 && lines !== "[|]";
  return { repeatTo: times(first), repeatFrom: times(last), double: double || lines === "]" };
}

const times = (colons: number): number => (colons === 0 ? 0 : Math.min(colons + 1, MOST_TIMES));

/**
 * Numbers of an ending, "1", "1,3", "1-3,5", after a bar line or a bracket (ABC 2.1, 4.9 and 4.10).
 *
 * @returns null if no number stands here
 */
export function endingAt(
  text: string,
  at: number,
): { readonly numbers: readonly number[]; readonly end: number } | null {
  ENDING.lastIndex = at;
  const list = ENDING.exec(text)?.[0];
  if (list === undefined) return null;
  const numbers = new Set<number>();
  for (const part of list.split(",")) {
    const [from = 0, to = from] = part.split("-").map((number) => Math.min(Number(number), MOST_TIMES));
    for (let number = from; number <= to; number++) numbers.add(number);
  }
  return { numbers: [...numbers], end: at + list.length };
}

/** Some write a full stop after the number; before a note it would be a staccato dot. */
const ENDING = /\d+(?:[,-]\d+)*(?:\.(?=\s))?/y;
