import { ownRow } from "../reading/own-row.ts";
import type { Ornament } from "./tune.ts";

/** Signs ABC has for them; any other by its name (ABC 2.1, 4.14). */
const SHORT_DECORATIONS: Readonly<Record<string, string>> = { staccato: ".", roll: "~" };

/** An ornament as a decoration of the note behind it; empty for grace notes, which are notes. */
export function decorationAbc({ kind, notes }: Ornament): string {
  if (notes.length > 0 || kind === "grace") return "";
  const name = kind.replace(/[^0-9A-Za-z.()+<>-]/g, "");
  return ownRow(SHORT_DECORATIONS, kind) ?? (name === "" ? "" : `!${name}!`);
}
