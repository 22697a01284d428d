import fc from "fast-check";
import type { Random } from "../../../core/exercise/seeded-random.ts";

export const below = (random: Random, count: number): number => Math.floor(random() * count);

export function oneOf<T>(random: Random, choices: readonly T[]): T {
  const chosen = choices[below(random, choices.length)];
  if (chosen === undefined) throw new RangeError("nothing to choose from");
  return chosen;
}

/** A value of an arbitrary, settled by the random source alone. */
export function drawn<T>(random: Random, arbitrary: fc.Arbitrary<T>): T {
  const [value] = fc.sample(arbitrary, { seed: below(random, 2 ** 31), numRuns: 1 });
  return value as T;
}

/** Words that mean something to the language a reader is written in, to a page, a path, a terminal or a table. */
export const HOSTILE_WORDS: readonly string[] = [
  "__proto__",
  "constructor",
  "toString",
  "hasOwnProperty",
  "valueOf",
  "<img src=x onerror=alert(1)>",
  "</script><script>alert(1)</script>",
  "&constructor;",
  "&amp;lt;b&gt;",
  "../../../../etc/passwd",
  "C:\\Windows\\system.ini",
  "//host/share/layout.json",
  "file:///etc/passwd",
  "=1+1",
  "\u001b[2J\u001b]0;x\u0007",
  "\u202egnp.exe",
  "\u0000",
  "\ud800",
  "\r\nX:2",
  "💥".repeat(40),
  "a".repeat(5000),
  "",
  " ",
];

/** Numbers at and beyond the edges of what fields hold. */
export const EDGE_NUMBERS: readonly number[] = [
  0,
  -0,
  1,
  -1,
  0.5,
  2,
  7,
  12,
  16,
  17,
  63,
  64,
  127,
  128,
  255,
  256,
  1000,
  65_535,
  65_536,
  2 ** 31 - 1,
  2 ** 31,
  2 ** 32,
  2 ** 53,
  1e9,
  1e21,
  1e308,
  -1e308,
  5e-324,
  0.1 + 0.2,
];
