import { ownRow } from "../../reading/own-row.ts";

/** Letters for decorations (ABC 2.1, 4.14); U: changes them. */
export const LETTER_SIGNS: ReadonlyMap<string, string> = new Map([
  ["~", "roll"],
  ["H", "fermata"],
  ["L", "accent"],
  ["M", "lowermordent"],
  ["O", "coda"],
  ["P", "uppermordent"],
  ["S", "segno"],
  ["T", "trill"],
  ["u", "upbow"],
  ["v", "downbow"],
  // Common in older files [P].
  ["J", "slide"],
  ["R", "roll"],
]);

/** Other names the standard gives the same thing. */
const SAME: Readonly<Record<string, string>> = {
  ">": "accent",
  emphasis: "accent",
  mordent: "lowermordent",
  pralltriller: "uppermordent",
  irishroll: "roll",
  "trill(": "trill",
  invertedfermata: "fermata",
};

const ORNAMENTS = new Set([
  "trill",
  "lowermordent",
  "uppermordent",
  "roll",
  "turn",
  "turnx",
  "invertedturn",
  "invertedturnx",
  "arpeggio",
  "accent",
  "fermata",
  "tenuto",
  "staccato",
  "wedge",
  "plus",
  "+",
  "snap",
  "slide",
  "upbow",
  "downbow",
  "open",
  "thumb",
  "breath",
]);

/** Known, but nothing that is played within a note: loudness, fingers, phrase marks. */
const UNPLAYED =
  /^([0-5]|p{1,4}|m?[pf]|f{1,4}|sfz|(dim|cresc)[a-z]*[()]|[<>][()]|trill\)|(short|medium|long)phrase|[a-z]*slur.?|nil|none|beam.*|editorial|courtesy|turnx?|xstem|8v[ab][()])$/;

/** What a decoration is, as an ornament; null for those that are none; "unknown" for names the standard does not have. */
export function ornamentOf(name: string): string | null | "unknown" {
  const plain = name.replace(/^[\^_]/, "").toLowerCase();
  const kind = ownRow(SAME, plain) ?? plain;
  if (ORNAMENTS.has(kind)) return kind === "+" ? "plus" : kind;
  return UNPLAYED.test(plain) ? null : "unknown";
}
