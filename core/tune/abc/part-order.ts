import { LIMITS, moreThan } from "../../reading/limits.ts";
import { quoted } from "../../reading/quoting.ts";
import { type Read, read, unreadable } from "./field-values.ts";
import { MOST_TIMES } from "./limits.ts";

/**
 * Reads the P: of a header: "AABB", "A2B2", "((AB)3.(CD)3)2"; dots only part it for the eye (ABC 2.1, 3.1.9).
 *
 * @returns the labels in the order they are played
 */
export function readPartOrder(text: string): Read<readonly string[]> {
  const signs = text.replace(/[\s.]+/g, "");
  const levels: string[][] = [[]];
  let last: readonly string[] = [];
  for (const sign of signs.match(/\d+|./gu) ?? []) {
    const level = levels.at(-1) ?? [];
    if (/^\d+$/.test(sign)) {
      const times = Number(sign);
      if (last.length === 0 || times < 1 || times > MOST_TIMES) return unreadable(notAnOrder(text));
      for (let time = 1; time < times && level.length <= LIMITS.abcParts.most; time++) level.push(...last);
      last = [];
    } else if (sign === "(") {
      if (levels.length > LIMITS.abcPartDepth.most) {
        return unreadable(`P:${quoted(text)} has ${moreThan(LIMITS.abcPartDepth)}`);
      }
      levels.push([]);
      last = [];
    } else if (sign === ")") {
      const closed = levels.pop() ?? [];
      const outer = levels.at(-1);
      if (outer === undefined) return unreadable(notAnOrder(text));
      outer.push(...closed);
      last = closed;
    } else if (/\p{L}/u.test(sign)) {
      level.push(sign);
      last = [sign];
    } else {
      return unreadable(notAnOrder(text));
    }
    if ((levels.at(-1)?.length ?? 0) > LIMITS.abcParts.most) {
      return unreadable(`P:${quoted(text)} asks for ${moreThan(LIMITS.abcParts)}`);
    }
  }
  const [order = [], ...open] = levels;
  return open.length > 0 ? unreadable(notAnOrder(text)) : read(order);
}

const notAnOrder = (text: string): string => `P:${quoted(text)} is no order of parts`;

/** The label of a part: its letter, whatever explains it ("A (slow)"); a label of words is taken whole. */
export function partLabel(text: string): string {
  return /^(\p{L})(?![\p{L}\d])/u.exec(text.trim())?.[1] ?? text.trim();
}
