import type { Diagnosis } from "./mark.ts";

/** "neighbour hole: 5 draw instead of 4 draw". */
export function slipInWords({ kind, words }: Diagnosis): string {
  return kind === "unknown" ? words : `${kind}: ${words}`;
}
