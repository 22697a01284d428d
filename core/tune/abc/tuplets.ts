import type { Metre } from "../tune.ts";
import { isCompound } from "../written-bar.ts";
import type { TupletToken } from "./music-tokens.ts";

/** A group begun: what its notes are multiplied by, and how many are to come. */
export interface OpenTuplet {
  readonly factor: number;
  left: number;
}

/** p notes in the time of q; n is 3 in compound time, else 2 (ABC 2.1, 4.13). */
const IN_THE_TIME_OF: Readonly<Record<number, number | "n">> = {
  2: 3,
  3: 2,
  4: 3,
  5: "n",
  6: 2,
  7: "n",
  8: 3,
  9: "n",
};

export function openTuplet({ p, q, r }: TupletToken, metre: Metre | null): OpenTuplet {
  const usual = IN_THE_TIME_OF[p] ?? "n";
  const time = q ?? (usual === "n" ? (isCompound(metre) ? 3 : 2) : usual);
  return { factor: time / p, left: r ?? p };
}
