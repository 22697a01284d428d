import { suffixOfKind } from "./chord-kinds.ts";
import { child, childText, type XmlElement } from "./xml-tree.ts";

/** The chord symbol of a `harmony` element, "F#m7/C#"; null where it has no root we can name (numerals, functions). */
export function chordSymbol(harmony: XmlElement): string | null {
  const kind = child(harmony, "kind");
  const shown = kind?.attributes.text;
  const value = kind?.text.trim() ?? "";
  if (value === "none") return shown?.trim() || "N.C.";
  const root = nameOf(harmony, "root");
  if (root === null) return null;
  const bass = nameOf(harmony, "bass");
  return root + (shown ?? suffixOfKind(value) ?? "") + (bass === null ? "" : `/${bass}`);
}

function nameOf(harmony: XmlElement, what: "root" | "bass"): string | null {
  const element = child(harmony, what);
  if (element === null) return null;
  const step = childText(element, `${what}-step`) ?? "";
  const alter = Number(childText(element, `${what}-alter`) ?? "0");
  if (!/^[A-G]$/.test(step) || !(Math.abs(alter) <= 2)) return null;
  return step + (alter < 0 ? "b" : "#").repeat(Math.round(Math.abs(alter)));
}
