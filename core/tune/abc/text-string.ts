import { ownRow } from "../../reading/own-row.ts";

/** Combining marks for the standard's two-character mnemonics, "\'e" and the like (ABC 2.1, 8.2). */
const MARKS: Readonly<Record<string, string>> = {
  "`": "\u0300",
  "'": "\u0301",
  "^": "\u0302",
  "~": "\u0303",
  '"': "\u0308",
  "=": "\u0304",
  v: "\u030c",
  u: "\u0306",
  c: "\u0327",
  r: "\u030a",
  o: "\u030a",
  H: "\u030b",
  ";": "\u0328",
  ".": "\u0307",
};

const LIGATURES: Readonly<Record<string, string>> = {
  ss: "ß",
  ae: "æ",
  AE: "Æ",
  oe: "œ",
  OE: "Œ",
  aa: "å",
  AA: "Å",
  "/o": "ø",
  "/O": "Ø",
  "/d": "đ",
  "/D": "Đ",
  DH: "Ð",
  dh: "ð",
  TH: "Þ",
  th: "þ",
};

/** Entities: a letter and the name of its mark, and a few words. */
const ENTITY_MARKS: Readonly<Record<string, string>> = {
  grave: "\u0300",
  acute: "\u0301",
  circ: "\u0302",
  tilde: "\u0303",
  uml: "\u0308",
  ring: "\u030a",
  cedil: "\u0327",
  caron: "\u030c",
};
const ENTITY_WORDS: Readonly<Record<string, string>> = {
  amp: "&",
  lt: "<",
  gt: ">",
  quot: '"',
  nbsp: " ",
  copy: "©",
  szlig: "ß",
  aelig: "æ",
  AElig: "Æ",
  oslash: "ø",
  Oslash: "Ø",
};

/** A text string as people read it: accents by mnemonic, entity or code point; "\&" and "\%" are the signs themselves. */
export function textOf(string: string): string {
  if (!/[\\&]/.test(string)) return string.trim();
  return string
    .replace(
      /\\u([0-9A-Fa-f]{4})|\\U([0-9A-Fa-f]{8})/g,
      (all, short, long) => codePoint(short ?? long) ?? all,
    )
    .replace(/\\(ss|[aA]{2}|ae|AE|oe|OE|\/[oOdD]|DH|dh|TH|th)/g, (all, name) => LIGATURES[name] ?? all)
    .replace(/\\([`'^~"=vucroH;.])([A-Za-z])/g, (all, mark, letter) => marked(letter, MARKS[mark]) ?? all)
    .replace(
      /&([A-Za-z])([a-z]{3,5});/g,
      (all, letter, name) => marked(letter, ownRow(ENTITY_MARKS, name)) ?? all,
    )
    .replace(/&([A-Za-z]+);/g, (all, name) => ownRow(ENTITY_WORDS, name) ?? all)
    .replace(/&#(\d{1,7});/g, (all, number) => codePoint(Number(number).toString(16)) ?? all)
    .replace(/\\([&%\\])/g, "$1")
    .trim();
}

function codePoint(hex: string): string | null {
  const value = Number.parseInt(hex, 16);
  return value >= 32 && value <= 0x10ffff ? String.fromCodePoint(value) : null;
}

/** One character with its mark, if there is such a character; else null: the text was something else. */
function marked(letter: string, mark: string | undefined): string | null {
  if (mark === undefined) return null;
  const joined = `${letter}${mark}`.normalize("NFC");
  return joined.length === 1 ? joined : null;
}
